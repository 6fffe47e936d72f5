//! The plan as a whole.

use super::aim::Aim;
use super::lie::Lie;
use super::locks::Locks;
use crate::hand::Hand;
use crate::neck::Instrument;
use crate::pitch::Interval;

/// All the arranger's decisions about one tune.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Plan {
    /// What it is played on.
    pub instrument: Instrument,
    /// Who plays it.
    pub hand: Hand,
    /// How far the arrangement sounds from the tune as written.
    pub transpose: Interval,
    /// What the search makes smallest.
    pub aim: Aim,
    /// What the search must keep.
    pub locks: Locks,
}

impl Plan {
    /// How the tune lies on the guitar.
    pub fn lie(&self) -> Lie {
        Lie { transpose: self.transpose, instrument: self.instrument.clone() }
    }
}

impl Default for Plan {
    /// A classical guitar in standard tuning, a medium hand, the tune as written, the least effort, nothing locked.
    fn default() -> Self {
        Self {
            instrument: Instrument::classical(),
            hand: Hand::default(),
            transpose: Interval::default(),
            aim: Aim::default(),
            locks: Locks::default(),
        }
    }
}
