//! What a string sounds where it is touched, derived from where the touched point divides it.

use crate::neck::geometry::Micrometres;
use crate::neck::{Fret, Instrument, Place, Touch};
use crate::pitch::{Interval, Pitch};

/// How far above the open string the partials 2 to 6 sound, in whole semitones: 12·log₂ n, rounded.
const PARTIALS: [(i32, i16); 5] = [(2, 12), (3, 19), (4, 24), (5, 28), (6, 31)];
/// How far a fret may lie from a node for the string to speak when it is touched above the fret, in hundredths of the
/// sounding string: the nodes above frets 3, 4, 9 and 16 lie up to 0.8 of them away, other fret 1.4 or more.
const NEAR: i32 = 1;

/// What sounds at a place by a touch; none off the neck and where there is no node.
pub(super) fn sounds(instrument: &Instrument, place: Place, touch: Touch) -> Option<Pitch> {
    let stopped = instrument.sounding(place)?;
    match touch {
        Touch::Plain => Some(stopped),
        Touch::Natural => {
            let (_, above) =
                PARTIALS.into_iter().find(|(parts, _)| divides(instrument, place.fret, *parts))?;
            instrument.open_pitch(place.string).checked_add(Interval::new(above))
        }
        // Half of what is left of the string: an octave. The fret touched is one that a neck can have.
        Touch::Artificial if place.fret.is_open() || place.fret.number() + 12 > Fret::MAX => None,
        Touch::Artificial => stopped.checked_add(Interval::new(12)),
    }
}

/// Whether a fret wire lies at a node that divides the string from the capo to the bridge into so many equal parts.
fn divides(instrument: &Instrument, fret: Fret, parts: i32) -> bool {
    let nut = instrument.wire(Fret::OPEN);
    let string: Micrometres = instrument.scale() - nut;
    let along = (instrument.wire(fret) - nut).count();
    let near = string.count() * NEAR / 100;
    (1..parts).any(|part| (along - string.count() * part / parts).abs() <= near)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::neck::{Node, StringIndex, Tuning};

    #[test]
    fn dividing_the_string_gives_the_table_of_nodes() {
        for capo in [0, 1, 5] {
            let guitar =
                Instrument::try_new(Tuning::standard(), 24, Instrument::CLASSICAL_SCALE, capo).unwrap();
            for fret in (0..=guitar.last_fret().number()).map(Fret::new) {
                let place = Place { string: StringIndex::new(2), fret };
                let open = guitar.open_pitch(place.string);
                let derived = sounds(&guitar, place, Touch::Natural).map(|pitch| pitch - open);
                assert_eq!(derived, Node::at(fret).map(Node::above_open), "capo {capo}, fret {fret}");
            }
        }
    }
}
