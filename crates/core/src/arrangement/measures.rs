//! What tells one route from another: its hardest moves, its open strings, its shifts.

use super::arrangement::Arrangement;
use crate::grip::MoveEffort;

impl Arrangement {
    /// The hardest moves with the index of the moment they lead to, the hardest first; of equally hard ones the
    /// earlier.
    pub fn hardest_moves(&self, most: usize) -> Vec<(usize, MoveEffort)> {
        let mut moves: Vec<_> = self.moments.iter().map(|moment| moment.moved).enumerate().collect();
        moves.sort_by_key(|(index, moved)| (std::cmp::Reverse(moved.total()), *index));
        moves.truncate(most);
        moves
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
