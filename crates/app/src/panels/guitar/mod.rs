//! The guitar's set-up: a tuning of one's own, strings, frets, scale length.

pub mod model;
mod ui;

pub use ui::GuitarSetup;
