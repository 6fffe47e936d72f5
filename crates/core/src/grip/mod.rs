//! What a hand can hold: voicings, the grips that hold them, what they cost, and what it costs to get there.

pub mod effort;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod grip;
pub mod moves;
pub mod voicing;

pub use effort::{Effort, GripEffort, GripTerm};
pub use grip::{Grip, Hold, StringSet};
pub use moves::{MoveEffort, MoveTerm};
pub use voicing::{BassChoice, Voicing};
