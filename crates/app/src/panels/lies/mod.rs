//! How the tune lies on the guitar: keys, tunings and capo positions side by side, the easiest first.

pub mod model;
mod scope;
mod ui;

pub use model::LiesModel;
pub use ui::LiesPage;
