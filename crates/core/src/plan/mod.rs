//! What the arranger decided: instrument, hand, key, aim and locks.

mod aim;
mod lie;
pub mod locks;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod plan;

pub use aim::Aim;
pub use lie::Lie;
pub use locks::{Lock, Locks};
pub use plan::Plan;
