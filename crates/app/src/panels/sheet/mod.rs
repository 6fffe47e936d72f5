//! The Sheet place: the pages as they print, the choices for them, and the ways out.

pub mod model;
mod pages;
mod strips;
mod ui;

pub use model::SheetModel;
pub use ui::SheetPlace;
