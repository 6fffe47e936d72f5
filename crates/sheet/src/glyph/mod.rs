//! Fonts and their glyphs: metrics, outlines, and text set in a font.
//!
//! The fonts are compiled in. A letter that no text font has is reported with the text it stands in; nothing is ever
//! drawn as an empty box.

pub mod font;
pub mod outline;
pub mod set;
pub mod smufl;

pub use font::{Face, InkBox, ink_box, units_per_em};
pub use outline::outline;
pub use set::{missing, sign, text};
