//! Second pass over systems: one force for all springs of a line, so that it ends at the right margin.

use std::ops::Range;

use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::breaking::Widths;
use crate::bar::{BarContent, BarSpace};
use crate::points::Points;

/// A bar with its place on a line.
#[derive(Clone, PartialEq, Debug)]
pub struct PlacedBar {
    /// The bar's index.
    pub bar: usize,
    /// Its left bar line.
    pub left: Points,
    /// Its right bar line.
    pub right: Points,
    /// The middle of each column.
    pub columns: Vec<Points>,
}

/// A line of bars.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// The bars from left to right.
    pub bars: Vec<PlacedBar>,
    /// Where the last one ends.
    pub width: Points,
    /// The room behind it, for the signs that announce what the next line begins with.
    pub tail: Points,
}

/// The most a last line is pulled when it would not fill the width.
const MOST_PULLED_LAST: f64 = 1.3;

/// Gives the bars of every line their places; `first` is the index of the bar that is printed first.
pub(crate) fn justify(
    spaces: &[BarSpace],
    lines: &[Range<usize>],
    first: usize,
    widths: &Widths,
) -> Vec<Line> {
    let mut usual = 1.0;
    let last = lines.len().saturating_sub(1);
    lines
        .iter()
        .enumerate()
        .map(|(number, range)| {
            let bars = &spaces[range.clone()];
            let tail = widths.tail(range.end);
            let full = force(bars, widths.line - widths.head - tail);
            let most = f64::max(usual, MOST_PULLED_LAST);
            let force = if number == last && full > most { usual } else { full };
            usual = force;
            Line { tail, ..place(bars, first + range.start, force, widths.head, widths.line - tail) }
        })
        .collect()
}

/// The force under which bars are as wide as the room; found by halving, since width grows with force.
fn force(bars: &[BarSpace], room: Points) -> f64 {
    let width = |force: f64| bars.iter().map(|b| b.under(force)).sum::<Points>();
    let (mut low, mut high) = (0.0, 64.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if width(middle) > room {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}

fn place(bars: &[BarSpace], first: usize, force: f64, head: Points, end: Points) -> Line {
    let natural: Points = bars.iter().map(|b| b.under(force)).sum();
    // Only a bar that is wider than the paper is pressed below what its ink needs: better crowded than cut off.
    let squeeze = ((end - head) / natural).min(1.0);
    let mut x = head;
    let bars = bars
        .iter()
        .enumerate()
        .map(|(i, space)| {
            let left = x;
            x += space.lead * squeeze;
            let columns = space
                .springs
                .iter()
                .map(|spring| {
                    let at = x;
                    x += spring.under(force) * squeeze;
                    at
                })
                .collect();
            PlacedBar { bar: first + i, left, right: x, columns }
        })
        .collect();
    Line { bars, width: x, tail: Points::ZERO }
}

impl Line {
    /// Where a time lies on the line: on its column, or between two in proportion; none outside the line.
    pub fn x_of(&self, contents: &[BarContent], bars: &[Bar], at: Ticks) -> Option<Points> {
        let placed = self.bars.iter().find(|b| bars[b.bar].start <= at && at < bars[b.bar].end())?;
        let columns = &contents[placed.bar].columns;
        let after = columns.partition_point(|c| c.at <= at);
        let before = after.checked_sub(1)?;
        let (from, x) = (columns[before].at, placed.columns[before]);
        let (to, x_to) = match columns.get(after) {
            Some(next) => (next.at, placed.columns[after]),
            None => (bars[placed.bar].end(), placed.right),
        };
        Some(x + (x_to - x) * ((at - from).quarters() / (to - from).quarters()))
    }
}
