//! The ranked grips of this moment, or the grip that the player builds.

mod bar;
mod card;
pub mod model;
mod ui;

pub use model::{VoicingRow, VoicingsModel};
pub use ui::Voicings;
