//! What stands in the way: onsets that the tuning reaches and no hand holds, and where something is let go.

use handspan_core::check::{self, GripFault};
use handspan_core::demand::WrittenNote;
use handspan_core::grip::{Grip, Hold, Reach};
use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::Instrument;
use handspan_core::pitch::Pitch;

use super::piece::Piece;
use super::route::{PieceRoute, has_grip};

/// A line for every onset that the tuning reaches and no hand can hold: the fingering that comes nearest, and the rules
/// that it breaks.
pub(super) fn without_grip(piece: &Piece) -> Vec<String> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let mut lines = Vec::new();
    for (onset, index) in piece.onsets.iter().zip(0..) {
        let notes = onset.sounding();
        if !onset.is_reachable(&piece.instrument) || has_grip(&reach, &notes) {
            continue;
        }
        let Some((grip, faults)) = nearest(&piece.instrument, &notes) else { continue };
        let (pitches, rules) = (
            names(notes.iter().map(|note| note.pitch)),
            faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "),
        );
        lines.push(format!(
            "  no grip: bar {}, onset {index}, {pitches}: at best {grip:?}, but {rules}",
            onset.bar
        ));
    }
    lines
}

/// A line for every onset at which something is let go that should sound on.
pub(super) fn cuts(piece: &Piece, route: &PieceRoute) -> Vec<String> {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let mut lines = Vec::new();
    for index in route.cuts(&reach) {
        let (onset, Some(before)) = (&piece.onsets[index], route.before(index)) else { continue };
        let struck = names(onset.struck.iter().map(|note| note.pitch));
        let sounding_on = names(onset.sounding_on.iter().copied());
        lines.push(format!(
            "  let go: bar {}, onset {index}: {struck} while {sounding_on} sounds on, after {:?}, then {:?}",
            onset.bar, before.grip, route.steps[index].grip
        ));
    }
    lines
}

fn names(pitches: impl Iterator<Item = Pitch>) -> String {
    pitches.map(|pitch| pitch.to_string()).collect::<Vec<_>>().join(" ")
}

/// The grip that comes nearest: with every finger at one place if possible, then with the fewest broken rules, then on
/// the lowest frets.
fn nearest(instrument: &Instrument, notes: &[WrittenNote]) -> Option<(Grip, Vec<GripFault>)> {
    let judge = |grip: &Grip| check::grip(instrument, &Hand::default(), grip);
    let mut best = None;
    each_assignment(instrument, notes, Grip::SILENT, &mut |grip| {
        let faults = judge(&grip);
        let torn = faults.iter().filter(|fault| matches!(fault, GripFault::TwoPlaces { .. })).count();
        let highest = grip.holds().map(|(_, hold)| hold.fret().number()).max();
        let distance = (torn, faults.len(), highest, grip);
        if best.is_none_or(|best| distance < best) {
            best = Some(distance);
        }
    });
    best.map(|(.., grip)| (grip, judge(&grip)))
}

/// Every way to lay the notes on strings of their own under any fingers, held by no rule at all.
fn each_assignment(instrument: &Instrument, left: &[WrittenNote], grip: Grip, found: &mut impl FnMut(Grip)) {
    let Some((note, rest)) = left.split_first() else {
        found(grip);
        return;
    };
    for place in instrument.places(note.pitch).filter(|place| grip.hold(place.string).is_none()) {
        let stopped = Finger::FOUR.map(|finger| Hold::stopped(place.fret, finger));
        let holds = if place.fret.is_open() { &[Hold::OPEN][..] } else { &stopped };
        for hold in holds {
            each_assignment(instrument, rest, grip.with(&Grip::from_holds([(place.string, *hold)])), found);
        }
    }
}
