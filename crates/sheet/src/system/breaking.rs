//! First pass over systems: where to break the line.
//!
//! All breaks are weighed together and the best whole is taken (the dynamic programme of Knuth and Plass, "Breaking
//! Paragraphs into Lines", Software: Practice and Experience 11, 1981, with bars for words): lines whose springs are
//! pulled or pressed little, sections that begin a line, no lonely last bar.

use std::ops::Range;

use crate::bar::BarSpace;
use crate::points::Points;

/// What a section costs that begins inside a line.
const SECTION_INSIDE: f64 = 20.0;
/// What a line costs as such, so that fewer are taken where it makes no difference.
const LINE: f64 = 1.0;
/// What a last line of a single bar costs.
const LONELY: f64 = 30.0;
/// The least part of its natural width to which a long value is pressed without harm, and what a line costs that has
/// to press further.
const LEAST_PRESSED: f64 = 0.65;
const PRESSED: f64 = 30.0;
/// What a bar costs that is too wide for any line.
const TOO_WIDE: f64 = 10_000.0;
/// The most bars considered for a line.
const MOST_BARS: usize = 16;

/// The widths that lines have.
#[derive(Clone, Debug)]
pub(crate) struct Widths {
    /// From the left margin to the right one.
    pub line: Points,
    /// What the clef takes.
    pub head: Points,
    /// What stands behind the last bar line where the line ends before each bar: the signs that announce its metre
    /// and key.
    pub tails: Vec<Points>,
}

impl Widths {
    /// What stands behind the last bar line of a line that ends before a bar.
    pub(crate) fn tail(&self, end: usize) -> Points {
        self.tails.get(end).copied().unwrap_or(Points::ZERO)
    }
}

/// The bars of each line.
pub(crate) fn lines(bars: &[BarSpace], begins_section: &[bool], widths: &Widths) -> Vec<Range<usize>> {
    let mut best: Vec<(f64, usize)> = vec![(0.0, 0)];
    for end in 1..=bars.len() {
        let starts = end.saturating_sub(MOST_BARS)..end;
        let costs = starts.map(|start| {
            let inside = begins_section[start + 1..end].iter().filter(|s| **s).count();
            let last = end == bars.len();
            let lonely = if last && start > 0 && end - start == 1 { LONELY } else { 0.0 };
            let line = lonely + cost(&bars[start..end], last, widths.line - widths.head - widths.tail(end));
            (best[start].0 + line + SECTION_INSIDE * inside as f64, start)
        });
        let cheapest = costs.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, end - 1));
        best.push(cheapest);
    }
    let mut lines = Vec::new();
    let mut end = bars.len();
    while end > 0 {
        let start = best[end].1;
        lines.push(start..end);
        end = start;
    }
    lines.reverse();
    lines
}

/// What it costs to set these bars on one line with so much room.
fn cost(bars: &[BarSpace], last: bool, room: Points) -> f64 {
    let natural: Points = bars.iter().map(|b| b.under(1.0)).sum();
    let least: Points = bars.iter().map(|b| b.under(0.0)).sum();
    if least > room {
        return TOO_WIDE * (least / room);
    }
    let stretch = room / natural;
    let strain = libm::log2(stretch);
    // A last line may stay short, but not so short that it looks forgotten.
    let pulled = if last && stretch > 1.0 { 0.2 * strain * strain } else { strain * strain };
    let pressed: Points = bars.iter().map(|b| b.under(LEAST_PRESSED)).sum();
    let crowded = if pressed > room { PRESSED } else { 0.0 };
    LINE + crowded + 60.0 * pulled
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bar::Spring;

    fn bar(width: f64) -> BarSpace {
        let spring = Spring { natural: Points::new(width), least: Points::new(width / 2.0) };
        BarSpace { lead: Points::ZERO, springs: vec![spring] }
    }

    const WIDTHS: Widths = Widths { line: Points::new(420.0), head: Points::new(20.0), tails: Vec::new() };

    #[test]
    fn even_bars_make_even_lines() {
        let bars = vec![bar(100.0); 12];
        assert_eq!(lines(&bars, &[false; 12], &WIDTHS), [0..4, 4..8, 8..12]);
    }

    #[test]
    fn a_section_begins_a_line_and_no_bar_is_left_alone() {
        let bars = vec![bar(100.0); 8];
        let mut sections = [false; 8];
        sections[3] = true;
        assert_eq!(lines(&bars, &sections, &WIDTHS)[0], 0..3);
        assert!(lines(&vec![bar(100.0); 9], &[false; 9], &WIDTHS).iter().all(|line| line.len() > 1));
    }

    #[test]
    fn a_bar_wider_than_the_line_stands_alone() {
        let bars = [bar(100.0), bar(2000.0), bar(100.0)];
        assert_eq!(lines(&bars, &[false; 3], &WIDTHS), [0..1, 1..2, 2..3]);
    }
}
