//! MusicXML 4.0 (W3C Music Notation Community Group, final report 2021), plain or compressed.
//!
//! [`read_tune`] reads a lead sheet, [`read_tune_with`] one whose melody, bass line and hook are chosen among its
//! [`parts`],
//! [`read_written_out`] music in which every note is given, [`write_score`] writes an arrangement for guitar with staff
//! and tablature, and [`read_score`] reads such an arrangement back so that it can be judged.

mod container;
mod read;
mod write;

pub use read::{
    PartChoice, ScorePart, Sung, is_written_out, parts, read_score, read_tune, read_tune_with,
    read_written_out,
};
pub use write::write_score;

/// What the standard has no element for: the neck, kept among its miscellaneous fields.
mod neck_field {
    /// Frets from the nut.
    pub(super) const FRETS: &str = "frets";
    /// Nut to bridge in micrometres.
    pub(super) const SCALE: &str = "scale-length-micrometres";
}
