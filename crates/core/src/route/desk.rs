//! What one processor works with: several may gather the states of a moment side by side.

use std::sync::{Mutex, MutexGuard, PoisonError};

use super::crowd::Transitions;
use super::layer::Reached;
use crate::grip::strain::grip_effort;
use crate::grip::{Fares, Grip, Reach};

/// What one processor works with: nothing of it says anything that another one could not work out too.
#[derive(Default)]
pub(super) struct Desk {
    pub(super) fares: Fares,
    pub(super) efforts: Efforts,
    /// The states that have been reached so far.
    pub(super) reached: Vec<Reached>,
    /// How much was looked at.
    pub(super) transitions: Transitions,
}

/// How many efforts are kept: a power of two, and no more than stay near a processor.
const EFFORTS: usize = 1 << 15;

/// The efforts of grips asked for lately: one for each remainder of their number, the latest.
pub(super) struct Efforts {
    known: Vec<Option<(Grip, i32)>>,
}

impl Default for Efforts {
    fn default() -> Self {
        Self { known: vec![None; EFFORTS] }
    }
}

impl Efforts {
    /// What holding a grip costs, all terms together.
    pub(super) fn of(&mut self, reach: &Reach, grip: &Grip) -> i64 {
        let known = &mut self.known[slot(grip)];
        if let Some((_, effort)) = known.filter(|(known, _)| known == grip) {
            return i64::from(effort);
        }
        let effort = grip_effort(reach, grip).total().points();
        *known = Some((*grip, effort));
        i64::from(effort)
    }
}

/// Spreads grips over the slots: multiplied by the golden ratio's fraction, the upper bits are well mixed (Knuth, The
/// Art of Computer Programming 3, 6.4; from memory).
fn slot(grip: &Grip) -> usize {
    let packed = grip.packed();
    let folded = (packed as u64) ^ (packed >> 61) as u64;
    (folded.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - EFFORTS.trailing_zeros())) as usize
}

/// The desks of a search.
#[derive(Default)]
pub(super) struct Desks {
    /// Those that nobody works at.
    free: Mutex<Vec<Desk>>,
    /// How much was looked at in the moments before.
    pub(super) transitions: Transitions,
}

impl Desks {
    /// Works at a desk, a new one where all are taken.
    pub(super) fn at_one<T>(&self, work: impl FnOnce(&mut Desk) -> T) -> T {
        let mut desk = self.lock().pop().unwrap_or_default();
        let done = work(&mut desk);
        self.lock().push(desk);
        done
    }

    /// Clears all desks; gives the states that have been reached.
    pub(super) fn clear(&mut self) -> Vec<Reached> {
        let mut all = Vec::new();
        for desk in self.free.get_mut().unwrap_or_else(PoisonError::into_inner) {
            desk.fares.clear();
            all.append(&mut desk.reached);
            let Transitions { all, looked_at } = std::mem::take(&mut desk.transitions);
            self.transitions.all += all;
            self.transitions.looked_at += looked_at;
        }
        all
    }

    fn lock(&self) -> MutexGuard<'_, Vec<Desk>> {
        self.free.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
