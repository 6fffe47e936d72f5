//! The Tune place: the bar grid with melody and chords, and what is needed to write and to mend them.

mod chord;
mod form;
mod grid;
mod help;
mod key_offers;
pub mod model;
mod offers;
mod side;
mod ui;

pub use help::{ChordHelp, Suggestion};
pub use key_offers::KeyOffer;
pub use ui::TunePanel;
