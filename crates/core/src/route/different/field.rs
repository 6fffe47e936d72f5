//! The music as a search for different routes sees it: what follows on what, moment by moment.

use crate::route::layer::{Key, State};

/// Why a search ended early.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ended {
    /// The watch stopped it, or there is more to look at than is sensible.
    Stopped,
    /// Nothing leads to this moment.
    Impasse(usize),
}

/// Music of some moments.
pub(super) trait Field {
    /// What the hand holds before the first moment.
    fn start(&self) -> Key;

    /// How many moments there are.
    fn moments(&self) -> usize;

    /// Whether a moment counts when it is asked what two routes have in common.
    fn counts(&self, moment: usize) -> bool;

    /// Every state of a moment, each by its cheapest way from those of the moment before, in the order of their keys.
    fn advance(&mut self, moment: usize, before: &[State]) -> Vec<State>;
}
