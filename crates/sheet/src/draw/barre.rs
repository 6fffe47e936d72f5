//! Brackets over barres: C with the fret as a Roman numeral, and a line as long as the finger stays (the classical
//! convention; common practice, no source).

use super::chord_box::roman;
use super::pen;
use super::system::Source;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::look::{self, SPACE};
use crate::points::{Point, Points};
use crate::system::Line;

/// From row to row.
const ROW: Points = Points::new(10.5);
/// How far a bracket begins to the left of its column's middle.
const SET_BACK: Points = Points::new(4.0);
/// From the line's end to the column where the finger has left, or to the bar line.
const BEFORE_END: Points = Points::new(6.5);
const BEFORE_BAR_LINE: Points = Points::new(3.0);
/// From the numeral to the line.
const AFTER_NUMERAL: Points = Points::new(2.5);
/// The shortest line that is drawn, and the hook at its end.
const SHORTEST: Points = Points::new(5.0);
const HOOK: Points = Points::new(3.4);
/// The white between two brackets in a row.
const GAP: Points = Points::new(3.0);

/// Draws the brackets of a system above a height, as many rows as they need; gives the height above them.
pub(crate) fn barres(source: Source<'_>, line: &Line, above: Points, into: &mut Group) -> Points {
    let bars = source.score.tune.bars();
    let (Some(first), Some(last)) = (line.bars.first(), line.bars.last()) else { return above };
    let (begin, end) = (bars[first.bar].start, bars[last.bar].end());
    let mut rows: Vec<Points> = Vec::new();
    for barre in source.barres.iter().filter(|barre| barre.from < end && begin < barre.to) {
        let left = line.x_of(source.contents, bars, barre.from).map_or(first.left + GAP, |x| x - SET_BACK);
        let bar_line = line.bars.iter().find(|placed| bars[placed.bar].end() == barre.to);
        let right = match (bar_line, line.x_of(source.contents, bars, barre.to)) {
            (Some(placed), _) => placed.right - BEFORE_BAR_LINE,
            (None, Some(x)) => x - BEFORE_END,
            (None, None) => last.right - BEFORE_BAR_LINE,
        };
        let mut bracket = bracket(barre.fret.number(), left, right, barre.to <= end);
        let reach = bracket.bounds().map_or(right, |ink| ink.right) + GAP;
        let row = rows.iter().position(|taken| *taken <= left).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push(reach);
        }
        rows[row] = reach;
        bracket.at.y = above - ROW * row as f64;
        into.push(bracket);
    }
    if rows.is_empty() { above } else { above - ROW * rows.len() as f64 - look::ROW_GAP }
}

/// A bracket on the baseline 0, closed by a hook where the finger leaves.
fn bracket(fret: u8, left: Points, right: Points, closed: bool) -> Group {
    let numeral = format!("C{}", roman(fret));
    let label = pen::text_from(Face::Regular, look::BARRE, &numeral, Point::new(left, Points::ZERO));
    let from = left + label.advance() + AFTER_NUMERAL;
    let mut group = Group::of(Role::Barre, label);
    if right - from >= SHORTEST {
        let y = -(look::BARRE * 0.33);
        let thin = SPACE * 0.13;
        group.push(Path::line(Point::new(from, y), Point::new(right, y), thin, Ink::BLACK));
        if closed {
            let corner = Point::new(right, y - thin / 2.0);
            group.push(Path::line(corner, Point::new(right, y + HOOK), thin, Ink::BLACK));
        }
    }
    group
}
