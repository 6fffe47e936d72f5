//! The line between the work and the neck: results as sentences, what gave way, progress, the passage.

mod care;
pub mod model;
mod ui;

pub use care::{ADVICE, Care, caution_in_words};
pub use model::{StatusModel, give_way_in_words};
pub use ui::Status;
