//! Pages: which systems stand on each, and the finished sheet.

pub(crate) mod boxes;
pub(crate) mod breaking;
pub(crate) mod finish;
pub(crate) mod heading;
