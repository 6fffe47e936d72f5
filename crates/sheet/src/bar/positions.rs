//! Where the left hand stands, and when it takes another position.

use handspan_core::arrangement::Score;
use handspan_core::grip::Reach;
use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::Fret;
use handspan_core::time::Ticks;

use super::boxes::held_at;
use super::ringing::Ringing;

/// Every time at which the hand takes a position, with the fret of its index finger (the meaning of a position in
/// guitar methods; common practice, no source), or where it would be if every finger had a fret of its own. Strokes on open strings leave the hand where it is.
pub(crate) fn positions(score: &Score) -> Vec<(Ticks, Fret)> {
    let ringing = Ringing::new(score);
    let reach = Reach::new(&score.instrument, &Hand::default());
    let mut taken: Vec<(Ticks, Fret)> = Vec::new();
    for stroke in score.notes.chunk_by(|a, b| a.at == b.at) {
        let at = stroke[0].at;
        if stroke.iter().all(|note| note.finger.is_none()) {
            continue;
        }
        let grip = held_at(ringing, at);
        let index = grip.digits().of(Finger::Index).map(|(fret, _)| fret);
        if let Some(position) = index.or_else(|| reach.position(&grip))
            && taken.last().is_none_or(|(_, before)| *before != position)
        {
            taken.push((at, position));
        }
    }
    taken
}
