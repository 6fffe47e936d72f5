//! What a search has worked out already: tunes say the same thing again and again.

use super::candidates::Strokes;
use super::crowd::Transitions;
use super::layer::Key;
pub(super) use crate::grip::Pace;
use crate::grip::moves::haste;
use crate::grip::strain::grip_effort;
use crate::grip::{Departures, Grip, Reach};

/// How many efforts are kept: a power of two, and no more than stay near a processor.
const EFFORTS: usize = 1 << 15;

/// Everything that depends on the reach alone, worked out once for all moments and passes.
pub(super) struct Known {
    pub(super) reach: Reach,
    pub(super) strokes: Strokes,
    pub(super) paces: Paces,
    pub(super) efforts: Efforts,
    /// The hands of the moment that was left last.
    pub(super) departures: Departures,
    /// How much was looked at so far.
    pub(super) transitions: Transitions,
}

impl Known {
    /// Nothing known yet.
    pub(super) fn new(reach: &Reach) -> Self {
        Self {
            reach: reach.clone(),
            strokes: Strokes::default(),
            paces: Paces::default(),
            departures: Departures::default(),
            efforts: Efforts { known: vec![None; EFFORTS] },
            transitions: Transitions::default(),
        }
    }

    /// What a move costs that has so many milliseconds.
    pub(super) fn moved(&mut self, milliseconds: i64, from: &Key, to: &Key) -> i32 {
        let pace = self.paces.of(&self.reach, milliseconds);
        pace.total(&from.hand(&self.reach), &to.hand(&self.reach))
    }
}

/// The paces of the moments so far; there are no more than steps of haste.
#[derive(Default)]
pub(super) struct Paces {
    known: Vec<(i32, Pace)>,
}

impl Paces {
    /// The pace of a move that has so many milliseconds.
    pub(super) fn of(&mut self, reach: &Reach, milliseconds: i64) -> &Pace {
        let haste = haste(milliseconds);
        let index = self.known.iter().position(|(known, _)| *known == haste).unwrap_or_else(|| {
            self.known.push((haste, Pace::new(reach, milliseconds)));
            self.known.len() - 1
        });
        &self.known[index].1
    }
}

/// The efforts of grips asked for lately: one for each remainder of their number, the latest.
pub(super) struct Efforts {
    known: Vec<Option<(Grip, i32)>>,
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
