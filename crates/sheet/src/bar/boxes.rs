//! Which chord box stands above each chord symbol.

use std::ops::Range;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::grip::{Grip, Hold};
use handspan_core::neck::Touch;
use handspan_core::time::Ticks;

use super::ringing::Ringing;

/// What is held when each chord symbol of the tune begins.
pub(crate) fn grips(score: &Score) -> Vec<Grip> {
    let ringing = Ringing::new(score);
    score.tune.chords().iter().map(|chord| held_at(ringing, chord.at)).collect()
}

/// What is held at a time: whatever sounds, under the fingers that are still there: a natural harmonic rings alone.
pub(crate) fn held_at(ringing: Ringing<'_>, at: Ticks) -> Grip {
    let held = |note: &ScoreNote| {
        let stays = note.touch != Touch::Natural || note.at == at;
        (note.place.string, Hold::plain(note.place.fret, note.finger.filter(|_| stays)))
    };
    Grip::from_holds(ringing.at(at).map(held))
}

/// The grip to be shown at each chord symbol of the tune, as far as it stands within the times printed.
///
/// None where fewer than two strings sound, and where the box would be the one before it again.
pub(crate) fn boxes(score: &Score, printed: &Range<Ticks>) -> Vec<Option<Grip>> {
    let mut before = Grip::SILENT;
    let grips = score.tune.chords().iter().zip(grips(score));
    grips
        .map(|(chord, grip)| {
            if !printed.contains(&chord.at) {
                return None;
            }
            let shown = (grip.len() >= 2 && grip != before).then_some(grip);
            before = grip;
            shown
        })
        .collect()
}
