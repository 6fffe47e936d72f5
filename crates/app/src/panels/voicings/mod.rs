//! The ranked grips of this moment.

mod chord_box;
pub mod model;
mod ui;

pub use model::{Term, VoicingRow, VoicingsModel, grip_terms, move_terms};
pub use ui::Voicings;
