//! MusicXML 4.0 (W3C Music Notation Community Group, final report 2021), plain or compressed.
//!
//! [`read_tune`] reads a lead sheet, [`write_score`] writes an arrangement for guitar with staff and tablature, and
//! [`read_score`] reads such an arrangement back so that it can be judged.

mod container;
mod read;

pub use read::read_tune;
