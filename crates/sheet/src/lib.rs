//! The fingering sheet: from a score to pages that a player puts on the stand.
//!
//! [`engrave`] runs the passes in their order and gives a [`Sheet`] of [`frame::Frame`]s; the writers in [`mod@write`] and
//! any screen draw only those.
//!
//! | level | passes |
//! | --- | --- |
//! | [`bar`] | collect and notation (what stands in a bar, in tablature and on the staff), measure (the ink of every column), space (springs between columns) |
//! | [`system`] | breaking (bars to lines), justify (a place for every column) |
//! | page | breaking (systems to pages), finish (places on the page, heading, footer); boxes (chord boxes alone) |
//! | practice | hardest (which moves), ways (what each finger does), necks (how it looks), page |
//!
//! [`rhythm`] knows how rhythm is written, `draw` how each thing looks, [`look`] how large it is, [`glyph`] the fonts.

pub mod bar;
mod draw;
mod engrave;
pub mod frame;
pub mod glyph;
pub mod look;
mod options;
mod page;
pub mod points;
mod practice;
pub mod rhythm;
pub mod system;
pub mod write;

pub use engrave::{OutlineEntry, Sheet, engrave};
pub use options::{Layout, Paper, Print, SheetOptions};
