//! A grip of the player's own: what it is, who can hold it, or why nobody can and what comes nearest.

pub mod model;
mod ui;

pub use model::OwnGripModel;
pub use ui::show;
