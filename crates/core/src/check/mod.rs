//! Is it true and playable: judges any grip and any score from first principles.
//!
//! Shares no code with [`crate::grip`]'s enumeration and [`crate::route`]: it knows the tables of [`crate::neck`] and
//! [`crate::hand`], and works the rest out again. [`grip()`] judges what a left hand holds at one moment,
//! [`least_wrong()`] says why it can't hold a voicing, [`score()`] judges a whole arrangement by its own signs,
//! [`melody()`] an arrangement against the tune it was made from, [`below_the_melody()`] a fingered piece against the
//! notes that were given and [`taps()`] against its taps, [`lines()`] an arrangement against a written bass line and hooks.

mod given;
mod grip;
mod harmonic;
mod left;
mod lines;
mod melody;
mod right;
#[cfg(test)]
mod sample;
mod score;
mod taps;
mod ties;
mod violation;
mod voicing;

pub use given::below_the_melody;
pub use grip::grip;
pub use left::GripFault;
pub use lines::lines;
pub use melody::melody;
pub use right::StrokeFault;
pub use score::score;
pub use taps::taps;
pub use violation::{Rule, Violation};
pub use voicing::least_wrong;
