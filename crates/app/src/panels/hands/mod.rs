//! The hands bar: what is played, on what, by whose hands; undo, files.

pub mod model;
mod ui;

pub use model::HandsModel;
pub use ui::{height, show};
