//! The tune ribbon: the whole tune from left to right.

pub mod model;
mod ui;

pub use model::RibbonModel;
pub use ui::{HEIGHT, Ribbon};
