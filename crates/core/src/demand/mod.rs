//! What has to sound when: the demands of every moment, gathered from tune and plan.

pub mod collect;
pub mod lines;
pub mod moment;
pub mod written;

pub use collect::demands;
pub use lines::{LineDemand, LineDemands};
pub use moment::{Accompaniment, Demand, MelodyDemand, Part};
pub use written::{Harmonic, Mark, SoundingNote, WrittenDemand, WrittenNote};
