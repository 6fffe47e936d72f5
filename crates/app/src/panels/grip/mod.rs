//! This grip: what it costs, what it gains, and what is locked.

pub mod model;
mod ui;

pub use model::GripModel;
pub use ui::show;
