//! The work and what has been arranged of it, told from others by identity: what is made from both alone can be kept
//! while the player steps and browses.

use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Work};

use super::Session;

/// A work with its arrangement. Two are equal only where both are the same ones.
#[derive(Clone, Debug)]
pub struct Arranged {
    work: Arc<Work>,
    arrangement: Option<Arc<Arrangement>>,
}

impl PartialEq for Arranged {
    fn eq(&self, other: &Self) -> bool {
        let same = match (&self.arrangement, &other.arrangement) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        same && Arc::ptr_eq(&self.work, &other.work)
    }
}

impl Session {
    /// The work and the arrangement as they are now.
    pub fn arranged(&self) -> Arranged {
        Arranged { work: Arc::clone(self.history.work()), arrangement: self.arrangement.clone() }
    }
}
