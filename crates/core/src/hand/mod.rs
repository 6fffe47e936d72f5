//! The hands: fingers, how far they reach, and whose hands they are.

pub mod finger;
pub mod player;
pub mod span;

pub use finger::{Finger, FingerSet, RightFinger};
pub use player::{Hand, HandSize};
