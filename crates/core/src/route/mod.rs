//! The way through: one grip for every moment.
//!
//! [`candidates`] says what can be held at a moment, [`worth`] what it is worth to the ear, [`search`] finds the
//! easiest way through all moments, exactly, and [`right_hand`] gives every stroke its finger. [`early()`] then says which
//! fingers may go down before they are needed.
//!
//! A search goes through its passes moment by moment. `layer` gathers the states of one moment, of which `striking`
//! and `singing` say the targets, and `lines` where a bass line or hooks are written; `ringing` says what may ring on, and
//! `over` gathers the ways into a melody note by it; `crowd` finds the best way to a target, `weighing` says what best
//! means in a pass.

pub mod candidates;
mod crowd;
mod desk;
pub mod different;
pub mod early;
mod known;
mod layer;
mod letting_go;
mod lines;
mod memory;
mod over;
pub mod right_hand;
mod ringing;
pub mod search;
pub mod shapes;
mod singing;
mod striking;
mod weighing;
pub mod worth;
pub mod written;

pub use crowd::Transitions;
pub use different::{MOST_OVERLAP, different_routes, different_written};
pub use early::{Early, early};
pub use lines::LineStrings;
pub use search::{Finder, Impasse, Route, Step, easiest};
pub use shapes::Shapes;
pub use written::{easiest_written, easiest_written_counted, written_grips};
