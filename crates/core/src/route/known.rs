//! What a search has worked out already: tunes say the same thing again and again.

use super::candidates::Strokes;
use super::crowd::Transitions;
use super::layer::Key;
use super::memory::Memory;
pub(super) use crate::grip::Pace;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, Reach};

/// How many efforts are kept: a power of two.
const EFFORTS: usize = 1 << 17;

/// Everything that depends on the reach alone, worked out once for all moments and passes.
pub(super) struct Known<'a> {
    pub(super) reach: &'a Reach,
    pub(super) strokes: Strokes<'a>,
    pub(super) paces: Paces<'a>,
    pub(super) efforts: Efforts<'a>,
    /// The passes of the searches so far.
    pub(super) memory: Memory,
    /// How much was looked at so far.
    pub(super) transitions: Transitions,
}

impl<'a> Known<'a> {
    /// Nothing known yet.
    pub(super) fn new(reach: &'a Reach) -> Self {
        Self {
            reach,
            strokes: Strokes::new(reach),
            paces: Paces { reach, known: Vec::new() },
            efforts: Efforts { reach, known: vec![None; EFFORTS] },
            memory: Memory::default(),
            transitions: Transitions::default(),
        }
    }
}

impl Known<'_> {
    /// What a move costs that has so many milliseconds.
    pub(super) fn moved(&mut self, milliseconds: i64, from: &Key, to: &Key) -> i32 {
        self.paces.of(milliseconds).total(&from.hand(self.reach), &to.hand(self.reach))
    }
}

/// The paces of the moments so far; a tune has few.
pub(super) struct Paces<'a> {
    reach: &'a Reach,
    known: Vec<(i64, Pace)>,
}

impl Paces<'_> {
    /// The pace of a move that has so many milliseconds.
    pub(super) fn of(&mut self, milliseconds: i64) -> &Pace {
        let index = self.known.iter().position(|(known, _)| *known == milliseconds).unwrap_or_else(|| {
            self.known.push((milliseconds, Pace::new(self.reach, milliseconds)));
            self.known.len() - 1
        });
        &self.known[index].1
    }
}

/// The efforts of grips asked for lately: one for each remainder of their number, the latest.
pub(super) struct Efforts<'a> {
    reach: &'a Reach,
    known: Vec<Option<(Grip, i32)>>,
}

impl Efforts<'_> {
    /// What holding a grip costs, all terms together.
    pub(super) fn of(&mut self, grip: &Grip) -> i64 {
        let known = &mut self.known[slot(grip)];
        if let Some((_, effort)) = known.filter(|(known, _)| known == grip) {
            return i64::from(effort);
        }
        let effort = grip_effort(self.reach, grip).total().points();
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
