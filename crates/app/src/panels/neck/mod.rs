//! The neck with the grip of this moment.

mod around;
mod glide;
pub mod model;
mod paint;
mod ui;

pub use model::NeckModel;
pub(crate) use paint::lock;
pub use ui::{Neck, height};
