//! Somebody who waits for a search, but not for ever.

use std::sync::atomic::{AtomicI64, Ordering};

use handspan_core::watch::Watch;

/// Lets a search ask so many times, then stops it.
pub(crate) struct Patience(AtomicI64);

impl Patience {
    pub(crate) const fn new(asked: i64) -> Self {
        Self(AtomicI64::new(asked))
    }
}

impl Watch for Patience {
    fn should_stop(&self) -> bool {
        self.0.fetch_sub(1, Ordering::Relaxed) <= 0
    }

    fn progress(&self, _done: usize, _total: usize) {}
}
