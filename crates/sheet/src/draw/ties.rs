//! Ties between the stems of the rhythm row.

use super::rhythm::Row;
use crate::bar::BarContent;
use crate::frame::{Group, Ink, Path, Role, Segment};
use crate::glyph::smufl::width;
use crate::look::SPACE;
use crate::points::{Point, Points};
use crate::rhythm::Kind;
use crate::system::Line;

/// From a stem to the end of its tie.
const GAP: Points = Points::new(2.2);
/// How far a tie comes in from the edge of a line.
const EDGE: Points = Points::new(10.0);

/// Draws the ties of a system, half ties at its ends included.
pub(crate) fn ties(contents: &[BarContent], line: &Line, row: Row, into: &mut Group) {
    let mut before: Option<Points> = None;
    for placed in &line.bars {
        let content = &contents[placed.bar];
        for (column, x) in content.columns.iter().zip(&placed.columns) {
            let Some(element) = column.element.map(|e| content.voice.elements[e]) else { continue };
            if element.kind == Kind::Tied {
                let from = before.unwrap_or(*x - EDGE - GAP * 2.0);
                tie(from + GAP, *x - GAP, row, into);
            }
            before = Some(*x);
        }
    }
    let next = line.bars.last().and_then(|b| contents.get(b.bar + 1));
    let goes_on = next.and_then(|c| c.voice.elements.first()).is_some_and(|e| e.kind == Kind::Tied);
    if let Some(from) = before.filter(|_| goes_on) {
        tie(from + GAP, line.width - Points::new(1.0), row, into);
    }
}

fn tie(left: Points, right: Points, row: Row, into: &mut Group) {
    into.push(Group::of(Role::Tie, bow(left, right, row.top + SPACE * 0.1, 1.0)));
}

/// A tie thickest in its middle, bowed upwards for 1 and downwards for −1.
pub(crate) fn bow(left: Points, right: Points, y: Points, upwards: f64) -> Path {
    let reach = (right - left).max(SPACE);
    let height = (reach * 0.12).max(Points::new(1.8)).min(Points::new(3.2));
    let thick = SPACE * width::TIE;
    let at = |part: f64, up: Points| Point::new(left + reach * part, y - up * upwards);
    let outer = height * (4.0 / 3.0);
    Path {
        segments: vec![
            Segment::Move(at(0.0, Points::ZERO)),
            Segment::Curve(at(0.25, outer), at(0.75, outer), at(1.0, Points::ZERO)),
            Segment::Curve(at(0.75, outer - thick), at(0.25, outer - thick), at(0.0, Points::ZERO)),
            Segment::Close,
        ],
        fill: Some(Ink::BLACK),
        stroke: None,
    }
}
