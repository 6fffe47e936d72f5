//! What the reader of a sheet chooses.

use std::collections::BTreeMap;
use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

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
#[derive(Clone, PartialEq, Eq, Hash, Debug, Default)]
pub struct SheetOptions {
    /// The paper.
    pub paper: Paper,
    /// What stands on the pages.
    pub layout: Layout,
    /// How large.
    pub print: Print,
    /// Whether chord boxes are mirrored for a left-handed player: the highest string to the left.
    pub left_handed_boxes: bool,
    /// The bars that are printed, as indices into the tune's: a handout for a lesson. All of them where none are
    /// chosen or none of the chosen ones is there.
    pub passage: Option<Range<usize>>,
    /// A teacher's remarks, each to be read under the system of its bar; those of bars that are not printed are left
    /// out.
    pub remarks: BTreeMap<usize, String>,
    /// Whether a practice page follows: the hardest moves, a tempo ladder, cautions.
    pub practice: bool,
}

impl SheetOptions {
    /// The bars that are printed of so many.
    pub(crate) fn printed(&self, bars: usize) -> Range<usize> {
        let chosen = self.passage.clone().map(|passage| passage.start..passage.end.min(bars));
        chosen.filter(|passage| !passage.is_empty()).unwrap_or(0..bars)
    }

    /// The times that are printed of a score.
    pub(crate) fn printed_times(&self, score: &Score) -> Range<Ticks> {
        let bars = score.tune.bars();
        let printed = self.printed(bars.len());
        let start = bars.get(printed.start).map_or(Ticks::ZERO, |bar| bar.start);
        start..printed.end.checked_sub(1).and_then(|last| bars.get(last)).map_or(start, Bar::end)
    }

    /// How wide a page is before it is enlarged: large print is a smaller page printed larger.
    pub(crate) fn page_width(&self) -> Points {
        self.paper.width() / self.print.scale()
    }

    /// How high a page is before it is enlarged.
    pub(crate) fn page_height(&self) -> Points {
        self.paper.height() / self.print.scale()
    }
}
