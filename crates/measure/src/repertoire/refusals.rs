//! Why an onset that the tuning reaches has no grip: the fingering that comes nearest, and the rules it breaks.

use std::fmt::Write as _;

use handspan_core::check::{self, GripFault};
use handspan_core::demand::WrittenNote;
use handspan_core::grip::{Grip, Hold, Reach};
use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::Instrument;

use super::piece::Piece;
use super::routes::has_grip;

/// A line for every onset of a piece that the tuning reaches and no hand can hold.
pub(super) fn refusals(piece: &Piece) -> String {
    let reach = Reach::new(&piece.instrument, &Hand::default());
    let mut lines = String::new();
    for (onset, index) in piece.onsets.iter().zip(0..) {
        let notes = onset.sounding();
        if !onset.is_reachable(&piece.instrument) || has_grip(&reach, &notes) {
            continue;
        }
        let Some((grip, faults)) = nearest(&piece.instrument, &notes) else { continue };
        let rules: Vec<String> = faults.iter().map(ToString::to_string).collect();
        let pitches: Vec<String> = notes.iter().map(|note| note.pitch.to_string()).collect();
        let rules = rules.join("; ");
        // Writing to a text cannot fail.
        writeln!(
            lines,
            "  bar {}, onset {index}, {}: at best {grip:?}, but {rules}",
            onset.bar,
            pitches.join(" ")
        )
        .unwrap_or_default();
    }
    lines
}

/// The grip that comes nearest: with every finger at one place if possible, then with the fewest broken rules, then on
/// the lowest frets.
fn nearest(instrument: &Instrument, notes: &[WrittenNote]) -> Option<(Grip, Vec<GripFault>)> {
    let judge = |grip: &Grip| check::grip(instrument, &Hand::default(), grip);
    let mut best = None;
    each_assignment(instrument, notes, Grip::SILENT, &mut |grip| {
        let faults = judge(&grip);
        let torn = faults.iter().filter(|fault| matches!(fault, GripFault::TwoPlaces { .. })).count();
        let highest = grip.holds().map(|(_, hold)| hold.fret.number()).max();
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
