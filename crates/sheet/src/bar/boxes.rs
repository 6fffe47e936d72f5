//! Which chord box stands above each chord symbol.

use handspan_core::arrangement::Score;
use handspan_core::grip::{Grip, Hold};

use super::ringing::Ringing;

/// The grip to be shown at each chord symbol of the tune: what is held when the chord begins.
///
/// None where fewer than two strings sound, and where the box would be the one before it again.
pub(crate) fn boxes(score: &Score) -> Vec<Option<Grip>> {
    let ringing = Ringing::new(score);
    let mut before = Grip::SILENT;
    let chords = score.tune.chords().iter();
    chords
        .map(|chord| {
            let held = ringing.at(chord.at).map(|note| {
                let hold = Hold { fret: note.place.fret, finger: note.finger };
                (note.place.string, hold)
            });
            let grip = Grip::from_holds(held);
            let shown = (grip.len() >= 2 && grip != before).then_some(grip);
            before = grip;
            shown
        })
        .collect()
}
