//! The fingering sheet.
