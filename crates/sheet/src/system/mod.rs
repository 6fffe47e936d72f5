//! Systems: which bars stand on a line, and where on it.

pub mod breaking;
pub mod justify;

pub use justify::{Line, PlacedBar};
