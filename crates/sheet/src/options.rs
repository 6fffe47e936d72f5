//! What the reader of a sheet chooses.

use crate::points::Points;

/// A size of paper, upright.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 × 11 inches.
    Letter,
}

impl Paper {
    /// How wide it is.
    pub const fn width(self) -> Points {
        match self {
            Self::A4 => Points::from_millimetres(210.0),
            Self::Letter => Points::new(612.0),
        }
    }

    /// How high it is.
    pub const fn height(self) -> Points {
        match self {
            Self::A4 => Points::from_millimetres(297.0),
            Self::Letter => Points::new(792.0),
        }
    }
}

/// What stands on a system.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Layout {
    /// Tablature with its rhythm below.
    #[default]
    Tablature,
    /// A five-line staff above the tablature.
    StaffAndTablature,
}

/// What the reader of a sheet chooses.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct SheetOptions {
    /// The paper.
    pub paper: Paper,
    /// What stands on a system.
    pub layout: Layout,
}
