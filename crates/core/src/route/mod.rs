//! The way through: one grip for every moment.
//!
//! [`candidates`] says what can be held at a moment, [`worth`] what it is worth to the ear, [`search`] finds the
//! easiest way through all moments, exactly, and [`right_hand`] gives every stroke its finger.

pub mod candidates;
pub mod different;
mod layer;
pub mod right_hand;
pub mod search;
mod singing;
pub mod worth;
pub mod written;

pub use different::{MOST_OVERLAP, different_routes, different_written};
pub use search::{Impasse, Route, Step, easiest};
pub use written::{WrittenPassage, easiest_written, written_grips};
