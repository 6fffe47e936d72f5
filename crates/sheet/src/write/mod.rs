//! Writers: from frames to files and pixels. They know frames and glyphs, never the score.

pub mod pdf;
pub mod png;
pub mod raster;
pub mod svg;
mod tags;
