//! Writers: from frames to files. They know frames and glyphs, never the score.

pub mod pdf;
pub mod raster;
pub mod svg;
