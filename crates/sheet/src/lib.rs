//! The fingering sheet.

pub mod frame;
pub mod glyph;
pub mod points;
pub mod rhythm;
