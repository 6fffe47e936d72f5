//! The neck: which strings and frets there are, where they lie in millimetres, and where a pitch can be played.

pub mod geometry;
pub mod harmonic;
pub mod instrument;
pub mod place;

pub use harmonic::{Node, Touch};
pub use instrument::{Instrument, InstrumentFault, Tuning};
pub use place::{Fret, FretSet, MAX_STRINGS, Place, StringIndex};
