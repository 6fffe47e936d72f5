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

/// What stands on the pages.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Layout {
    /// Tablature with its rhythm below.
    #[default]
    Tablature,
    /// A five-line staff above the tablature.
    StaffAndTablature,
    /// A five-line staff.
    Staff,
    /// Chord boxes alone.
    Boxes,
}

impl Layout {
    /// Whether the systems have a five-line staff.
    pub const fn has_staff(self) -> bool {
        matches!(self, Self::StaffAndTablature | Self::Staff)
    }

    /// Whether the systems have tablature.
    pub const fn has_tablature(self) -> bool {
        matches!(self, Self::Tablature | Self::StaffAndTablature)
    }
}

/// How large everything is printed.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Print {
    /// The usual size.
    #[default]
    Normal,
    /// A quarter larger, for students and for eyes at a distance.
    Large,
}

impl Print {
    /// How many times as large as usual.
    pub const fn scale(self) -> f64 {
        match self {
            Self::Normal => 1.0,
            Self::Large => 1.25,
        }
    }
}

/// What the reader of a sheet chooses.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct SheetOptions {
    /// The paper.
    pub paper: Paper,
    /// What stands on the pages.
    pub layout: Layout,
    /// How large.
    pub print: Print,
    /// Whether chord boxes are mirrored for a left-handed player: the highest string to the left.
    pub left_handed_boxes: bool,
}

impl SheetOptions {
    /// How wide a page is before it is enlarged: large print is a smaller page printed larger.
    pub(crate) fn page_width(self) -> Points {
        self.paper.width() / self.print.scale()
    }

    /// How high a page is before it is enlarged.
    pub(crate) fn page_height(self) -> Points {
        self.paper.height() / self.print.scale()
    }
}
