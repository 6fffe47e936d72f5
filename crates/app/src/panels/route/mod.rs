//! The way through the tune or a passage: what is hard where, and other ways beside it.

mod card;
pub mod model;
mod plot;
mod ui;

pub use model::RouteModel;
pub use ui::RoutePlace;
