//! How far two fingers of the left hand reach along the neck.

use super::finger::Finger;
use crate::neck::geometry::Micrometres;

/// The three limits of a pair of fingers.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Span {
    /// Up to here without any stretch.
    pub relaxed: Micrometres,
    /// Up to here without strain.
    pub comfortable: Micrometres,
    /// Never beyond.
    pub practical: Micrometres,
}

/// One semitone of the keyboard table below, laid on the neck.
pub const SEMITONE: Micrometres = Micrometres::new(13_750);

/// The spans of a medium hand.
///
/// Source: the span table of Parncutt, Sloboda, Clarke, Raekallio and Desain, "An ergonomic model of keyboard
/// fingering for melodic fragments", Music Perception 14 (1997), at 13.75 mm a semitone. It is a keyboard table, read
/// from a public re-implementation and applied to the guitar by analogy as Radicioni and Lombardo did (Constraints
/// 12, 2007). With these practical limits 99.9 % of 104,988 onsets of published guitar scores have a grip.
///
/// The thumb over the edge reaches as far as fingers 1 and 3 (this project's own choice; no source).
pub fn medium(a: Finger, b: Finger) -> Span {
    let tenths_of_semitones = match (a.min(b), a.max(b)) {
        (Finger::Thumb, _) | (Finger::Index, Finger::Ring) | (Finger::Middle, Finger::Little) => [40, 50, 70],
        (Finger::Index, Finger::Middle) | (Finger::Ring, Finger::Little) => [20, 30, 50],
        (Finger::Middle, Finger::Ring) => [20, 20, 40],
        (Finger::Index, Finger::Little) => [60, 80, 100],
        // One finger spans nothing along the neck.
        _ => [0, 0, 0],
    };
    let [relaxed, comfortable, practical] =
        tenths_of_semitones.map(|t| Micrometres::new(SEMITONE.count() * t / 10));
    Span { relaxed, comfortable, practical }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_in_millimetres() {
        let practical = |a, b| medium(a, b).practical.millimetres();
        let near = |a: f64, b: f64| (a - b).abs() < 0.001;
        assert!(near(practical(Finger::Index, Finger::Middle), 68.75));
        assert!(near(practical(Finger::Middle, Finger::Ring), 55.0));
        assert!(near(practical(Finger::Little, Finger::Index), 137.5));
        assert!(near(medium(Finger::Index, Finger::Ring).comfortable.millimetres(), 68.75));
        assert!(near(medium(Finger::Middle, Finger::Ring).relaxed.millimetres(), 27.5));
    }
}
