//! The search for commands: every one of the table by its name.

pub mod model;
mod ui;

pub use ui::Search;
