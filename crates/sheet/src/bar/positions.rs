//! Where the left hand stands, and when it takes another position.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;
use handspan_core::hand::Finger;
use handspan_core::neck::Fret;
use handspan_core::time::Ticks;

use super::boxes::held_at;
use super::ringing::Ringing;

/// A hand that reaches so many frets from its place has not left it.
const STRETCH: u8 = 1;

/// Every time at which the hand takes a position, with the fret of its index finger (the meaning of a position in
/// guitar methods; common practice, no source), or where it would be if every finger had a fret of its own.
///
/// Strokes on open strings leave the hand where it is, and so does a stretch: while one finger stays, or where the
/// hand is back by its next stroke.
pub(crate) fn positions(score: &Score) -> Vec<(Ticks, Fret)> {
    let stands = stands(score);
    let mut taken: Vec<(Ticks, Fret)> = Vec::new();
    for (index, stand) in stands.iter().enumerate() {
        let Some((_, before)) = taken.last() else {
            taken.push((stand.at, stand.position));
            continue;
        };
        let away = |stand: &Stand| stand.position.number().abs_diff(before.number());
        let stretched = away(stand) <= STRETCH && stands.get(index + 1).is_none_or(|next| away(next) == 0);
        if stand.position != *before && !stand.anchored && !stretched {
            taken.push((stand.at, stand.position));
        }
    }
    taken
}

/// The hand at a stroke.
struct Stand {
    at: Ticks,
    position: Fret,
    /// Whether a finger stays where it was at the stroke before.
    anchored: bool,
}

fn stands(score: &Score) -> Vec<Stand> {
    let ringing = Ringing::new(score);
    let mut stands = Vec::new();
    let mut before = Grip::SILENT;
    for stroke in score.notes.chunk_by(|a, b| a.at == b.at) {
        if stroke.iter().all(|note| note.finger.is_none()) {
            continue;
        }
        let at = stroke[0].at;
        let grip = held_at(ringing, at);
        let index = grip.digits().of(Finger::Index).map(|(fret, _)| fret);
        if let Some(position) = index.or_else(|| grip.position()) {
            let stays = |(string, hold)| before.hold(string) == Some(hold) && hold.finger().is_some();
            stands.push(Stand { at, position, anchored: grip.holds().any(stays) });
        }
        before = grip;
    }
    stands
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bar::sample::score_of;

    fn told(notes: &[&str]) -> Vec<(i64, u8)> {
        let taken = positions(&score_of(notes));
        taken.iter().map(|(at, fret)| (at.count() / Ticks::PER_QUARTER, fret.number())).collect()
    }

    #[test]
    fn the_index_finger_says_where_the_hand_stands() {
        assert_eq!(told(&["0 1 1 5 1", "1 1 1 8 4", "2 1 1 10 1"]), [(0, 5), (2, 10)]);
        // Open strings leave it where it is.
        assert_eq!(told(&["0 1 1 5 1", "1 1 1 0 -", "2 1 1 5 1"]), [(0, 5)]);
    }

    #[test]
    fn a_stretch_is_no_shift() {
        // Back by the next stroke.
        assert_eq!(told(&["0 1 1 5 1", "1 1 1 9 4", "2 1 1 5 1"]), [(0, 5)]);
        // Gone for longer.
        assert_eq!(told(&["0 1 1 5 1", "1 1 1 6 1", "2 1 1 6 1"]), [(0, 5), (1, 6)]);
        // One finger stays.
        assert_eq!(told(&["0 4 4 7 3", "1 1 1 9 4", "2 1 1 8 4"]), [(0, 5)]);
    }
}
