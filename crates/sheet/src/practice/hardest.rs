//! Which moves of the left hand are the hardest.

use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::grip::moves::{HandAt, move_effort};
use handspan_core::grip::{Effort, Grip, Reach};
use handspan_core::hand::Hand;
use handspan_core::time::Ticks;

use crate::bar::boxes::held_at;
use crate::bar::ringing::Ringing;

/// A change from one grip to the next.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct HardMove {
    /// When the second grip is struck.
    pub at: Ticks,
    pub from: Grip,
    pub to: Grip,
    pub effort: Effort,
}

/// The hardest moves within the times printed, the hardest first, each kind once where it comes first; as many as
/// are asked for, fewer where there are not so many that cost any effort.
///
/// A score does not say whose hand plays it: moves are weighed for a medium one, which ranks them like any other.
pub(super) fn hardest(score: &Score, printed: &Range<Ticks>, count: usize) -> Vec<HardMove> {
    let reach = Reach::new(&score.instrument, &Hand::default());
    let ringing = Ringing::new(score);
    let mut moves: Vec<HardMove> = Vec::new();
    let mut before: Option<(Ticks, Grip, HandAt)> = None;
    let strokes = score.notes.chunk_by(|a, b| a.at == b.at).map(|stroke| stroke[0].at);
    for at in strokes.filter(|at| printed.contains(at)) {
        let to = held_at(ringing, at);
        let hand = HandAt::holding(&reach, &to);
        if let Some((since, from, old)) = before {
            let milliseconds = score.tune.tempo_at(since).milliseconds(at - since);
            let effort = move_effort(&reach, &old, &hand, milliseconds).total();
            let known = |known: &HardMove| (known.from, known.to) == (from, to) && known.effort >= effort;
            if effort > Effort::NONE && !moves.iter().any(known) {
                moves.retain(|known| (known.from, known.to) != (from, to));
                moves.push(HardMove { at, from, to, effort });
            }
        }
        let position = before.and_then(|(_, _, old)| old.position());
        before = Some((at, to, hand.coming_from(position)));
    }
    moves.sort_by_key(|hard| (std::cmp::Reverse(hard.effort), hard.at));
    moves.truncate(count);
    moves
}
