//! Files in and out.
//!
//! Readers give what they could keep, together with a list of what they could not ([`Imported`]); only a file from
//! which nothing can be made is an error ([`ReadError`]). Writers give text; [`save()`] puts it on disk so that a crash
//! never leaves half a file.

mod diagnostic;
mod error;
pub mod musicxml;
pub mod project;
mod save;

pub use diagnostic::{Diagnostic, Imported, Severity, Whereabouts};
pub use error::ReadError;
pub use save::{load, save};
