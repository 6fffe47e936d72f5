//! Third pass over a bar: springs between its columns, stiffer for short values than for long ones.
//!
//! The rule is the one of J. S. Gourlay, "Spacing a Line of Music", Technical Report OSU-CISRC-10/87-TR35, The Ohio
//! State University, 1987: every column is followed by a spring whose natural length follows from the time to the next
//! column, all springs of a line are pulled with one force, and none is pressed below the room that ink needs.
//!
//! The natural length is that of the spacing table in E. Gould, "Behind Bars", Faber Music, 2011: eighth 2½, quarter
//! 3½, half 5, whole note 7 staff spaces, that is √2 times the room for twice the time (from memory; the room after a
//! quarter is this project's own, because a tablature needs more).

use handspan_core::time::Ticks;

use super::collect::BarContent;
use super::measure::Extent;
use crate::look;
use crate::points::Points;

/// The room after a column.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Spring {
    /// What the rule gives it when nothing pulls.
    pub natural: Points,
    /// What ink needs.
    pub least: Points,
}

impl Spring {
    /// Its length under a force; 1 leaves the natural length.
    pub fn under(&self, force: f64) -> Points {
        (self.natural * force).max(self.least)
    }
}

/// A bar as springs.
#[derive(Clone, PartialEq, Debug)]
pub struct BarSpace {
    /// From the bar line to the first column; does not stretch.
    pub lead: Points,
    /// The room after each column; the last one reaches to the next bar line.
    pub springs: Vec<Spring>,
}

impl BarSpace {
    /// The bar's width under a force.
    pub fn under(&self, force: f64) -> Points {
        self.lead + self.springs.iter().map(|s| s.under(force)).sum::<Points>()
    }
}

/// What stands at the bar lines of a bar, by how wide it is: key, metre and the beginning of a repeat after the one, lines and dots at the other.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct AtLines {
    pub begin: Points,
    pub end: Points,
}

/// The springs of a bar.
pub(crate) fn space(content: &BarContent, extents: &[Extent], end: Ticks, at_lines: AtLines) -> BarSpace {
    let columns = &content.columns;
    let next_at = |i: usize| columns.get(i + 1).map_or(end, |c| c.at);
    let mut springs: Vec<Spring> = (0..columns.len())
        .map(|i| {
            let next_left = extents.get(i + 1).map_or(at_lines.end, |e| e.left);
            let least = extents[i].right + look::COLUMN_GAP + next_left;
            Spring { natural: natural(next_at(i) - columns[i].at), least }
        })
        .collect();
    make_room_above(&mut springs, extents);
    BarSpace {
        lead: at_lines.begin + look::AFTER_BAR_LINE + extents.first().map_or(Points::ZERO, |e| e.left),
        springs,
    }
}

fn natural(time: Ticks) -> Points {
    look::AFTER_QUARTER * libm::sqrt(time.quarters())
}

/// Widens the springs from one chord symbol to the next, or to the end of the bar, until symbol and box have room.
fn make_room_above(springs: &mut [Spring], extents: &[Extent]) {
    let marked: Vec<usize> = (0..extents.len()).filter(|i| extents[*i].above.is_some()).collect();
    for (k, from) in marked.iter().enumerate() {
        let to = marked.get(k + 1).copied().unwrap_or(springs.len());
        let needed = extents[*from].above.unwrap_or(Points::ZERO) + look::CHORD_GAP;
        let stretch = &mut springs[*from..to];
        let there: Points = stretch.iter().map(|s| s.least).sum();
        if needed > there {
            let natural: Points = stretch.iter().map(|s| s.natural).sum();
            for spring in stretch {
                spring.least += (needed - there) * (spring.natural / natural);
            }
        }
    }
}
