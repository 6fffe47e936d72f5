//! What tells one route from another: its hardest moves, its open strings, its shifts.

use std::ops::Range;

use super::arrangement::Arrangement;
use crate::grip::{Effort, MoveEffort};
use crate::time::Ticks;

impl Arrangement {
    /// The hardest moves with the index of the moment they lead to, the hardest first; of equally hard ones the
    /// earlier.
    pub fn hardest_moves(&self, most: usize) -> Vec<(usize, MoveEffort)> {
        let mut moves: Vec<_> = self.moments.iter().map(|moment| moment.moved).enumerate().collect();
        moves.sort_by_key(|(index, moved)| (std::cmp::Reverse(moved.total()), *index));
        moves.truncate(most);
        moves
    }

    /// The indices of the moments of a passage and, after it, of those up to the first with a finger down: until then the
    /// hand stands where the passage left it. Routes that differ in the passage alone have every other move in common.
    pub fn reached_through(&self, passage: &Range<Ticks>) -> Range<usize> {
        let first = self.moments.partition_point(|moment| moment.at < passage.start);
        let after = self.moments.partition_point(|moment| moment.at < passage.end);
        let stands = self.moments[after..].iter().position(|moment| moment.grip.position().is_some());
        first..stands.map_or(self.moments.len(), |more| after + more + 1)
    }

    /// The effort of a passage: to come to it, to hold its grips, to get through it and out of it.
    pub fn effort_through(&self, passage: &Range<Ticks>) -> Effort {
        let moves = self.moments[self.reached_through(passage)].iter().map(|moment| moment.moved.total());
        let inside = self.moments.iter().filter(|moment| passage.contains(&moment.at));
        moves.chain(inside.map(|moment| moment.effort.total())).sum()
    }

    /// How many strokes of strings sound open.
    pub fn open_strings(&self) -> usize {
        let struck = self.moments.iter().map(|moment| moment.grip.only(moment.struck));
        struck.map(|grip| grip.holds().filter(|(_, hold)| hold.fret().is_open()).count()).sum()
    }

    /// How often the hand goes to another position. While no finger is down it stays where it was.
    pub fn shifts(&self) -> usize {
        let positions: Vec<_> = self.moments.iter().filter_map(|moment| moment.grip.position()).collect();
        positions.windows(2).filter(|pair| pair[0] != pair[1]).count()
    }
}
