//! The practice page: the hardest moves of what is printed, each as two small necks with the fingers' ways, a tempo
//! ladder, and the usual cautions.

mod hardest;
mod necks;
pub(crate) mod page;
mod ways;
