//! Bars before they have a place: what stands in each, how wide it is, and the springs between its columns.

pub(crate) mod agreement;
pub(crate) mod barres;
pub mod boxes;
pub mod collect;
pub(crate) mod digits;
pub mod measure;
pub mod notation;
pub(crate) mod positions;
pub(crate) mod ringing;
#[cfg(test)]
mod sample;
pub mod space;
pub mod voices;

pub use collect::{BarContent, Column};
pub use space::{BarSpace, Spring};
