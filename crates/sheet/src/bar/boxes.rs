//! Which chord box stands above each chord symbol.

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::grip::{Grip, Hold};

use super::ringing::Ringing;

/// What is held when each chord symbol of the tune begins.
pub(crate) fn grips(score: &Score) -> Vec<Grip> {
    let ringing = Ringing::new(score);
    let held = |note: &ScoreNote| (note.place.string, Hold { fret: note.place.fret, finger: note.finger });
    let chords = score.tune.chords().iter();
    chords.map(|chord| Grip::from_holds(ringing.at(chord.at).map(held))).collect()
}

/// The grip to be shown at each chord symbol of the tune.
///
/// None where fewer than two strings sound, and where the box would be the one before it again.
pub(crate) fn boxes(score: &Score) -> Vec<Option<Grip>> {
    let mut before = Grip::SILENT;
    let grips = grips(score).into_iter();
    grips
        .map(|grip| {
            let shown = (grip.len() >= 2 && grip != before).then_some(grip);
            before = grip;
            shown
        })
        .collect()
}
