//! Rhythm as it is written: note values, ties, tuplets and beams of one bar.
//!
//! Pure: times in, values out. Nothing here knows of paper.

pub mod beam;
pub mod split;
pub mod tuplet;
pub mod value;
pub mod voice;

pub use tuplet::Tuplet;
pub use value::Value;
pub use voice::{Element, Kind, Span, Voice, voice};
