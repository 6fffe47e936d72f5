//! The music as a search for different routes sees it: what follows on what, moment by moment.

use crate::route::layer::{Key, State};
use crate::route::weighing::Weighing;
use crate::watch::Watch;

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
    fn advance(&mut self, weighing: Weighing, moment: usize, before: &[State]) -> Vec<State>;

    /// What the move to a moment costs.
    fn moved(&mut self, moment: usize, from: &Key, to: &Key) -> i32;

    /// The states of every moment by their cheapest way, the beginning first.
    fn pass(&mut self, weighing: Weighing, watch: &dyn Watch) -> Result<Vec<Vec<State>>, Ended> {
        let mut layers = vec![vec![State::at(self.start())]];
        for moment in 0..self.moments() {
            if watch.should_stop() {
                return Err(Ended::Stopped);
            }
            let layer = self.advance(weighing, moment, &layers[moment]);
            if layer.is_empty() {
                return Err(Ended::Impasse(moment));
            }
            layers.push(layer);
        }
        Ok(layers)
    }
}
