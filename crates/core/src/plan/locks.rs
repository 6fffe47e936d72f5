//! Choices that the search must keep.

use std::collections::BTreeMap;

use crate::grip::{BassChoice, Grip};
use crate::neck::StringIndex;
use crate::time::Ticks;

/// What is locked at one moment. Nothing locked is the default.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Lock {
    /// The string that the melody note sounds on.
    pub melody: Option<StringIndex>,
    /// What the bass is.
    pub bass: Option<BassChoice>,
    /// The strings struck at this moment with their frets and fingers. The highest pitch is the melody, the lowest of
    /// several the bass. What still rings from before is not part of it.
    pub grip: Option<Grip>,
}

impl Lock {
    /// Whether nothing is locked.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// All locks, by the time of their moment in written order.
#[derive(Clone, PartialEq, Eq, Hash, Debug, Default)]
pub struct Locks {
    by_time: BTreeMap<Ticks, Lock>,
}

impl Locks {
    /// What is locked at a moment.
    pub fn at(&self, at: Ticks) -> Lock {
        self.by_time.get(&at).copied().unwrap_or_default()
    }

    /// Sets what is locked at a moment; an empty lock is taken away.
    pub fn set(&mut self, at: Ticks, lock: Lock) {
        if lock.is_empty() {
            self.by_time.remove(&at);
        } else {
            self.by_time.insert(at, lock);
        }
    }

    /// The locks in order of time.
    pub fn iter(&self) -> impl Iterator<Item = (Ticks, Lock)> + '_ {
        self.by_time.iter().map(|(at, lock)| (*at, *lock))
    }

    /// How many things are locked: strings, basses and grips, each by itself.
    pub fn count(&self) -> usize {
        let of = |lock: &Lock| [lock.melody.is_some(), lock.bass.is_some(), lock.grip.is_some()];
        self.by_time.values().flat_map(of).filter(|is_locked| *is_locked).count()
    }

    /// How many moments have a lock.
    pub fn len(&self) -> usize {
        self.by_time.len()
    }

    /// Whether nothing is locked anywhere.
    pub fn is_empty(&self) -> bool {
        self.by_time.is_empty()
    }
}
