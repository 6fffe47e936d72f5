//! What has to sound when: the demands of every moment, gathered from tune and plan.

pub mod moment;

pub use moment::Part;
