//! Left-hand digits to the left of heads and accidentals, each at the height of its note (common practice, no source).

use handspan_core::hand::Finger;

use super::{SPACE, Steps, in_columns, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};

/// From what stands to the right, ledger lines included, to the first column, and from column to column.
const GAP: f64 = 0.42;
/// Digits nearer than this many steps stand in different columns.
const NEAR: Steps = 2;
/// Half the height of a figure in its own size, measured in the font.
const HALF_HEIGHT: f64 = 0.325;

/// A digit: its note as an index into the score, the finger, and where the head stands.
pub(crate) type Digit = (usize, Finger, Steps);

fn placed(digits: &[Digit]) -> Vec<(Digit, usize)> {
    in_columns(digits, |(_, _, steps)| *steps, NEAR)
}

fn width(finger: Finger) -> Points {
    pen::width(Face::Italic, look::LEFT_FINGER, &finger.to_string())
}

fn column_width(digits: &[Digit]) -> Points {
    let widest = digits.iter().map(|(_, finger, _)| width(*finger)).fold(Points::ZERO, Points::max);
    widest + SPACE * GAP
}

/// How far the digits reach to the left of what they stand beside.
pub(crate) fn reach(digits: &[Digit]) -> Points {
    let columns = placed(digits).into_iter().map(|(_, column)| column + 1).max().unwrap_or(0);
    column_width(digits) * columns as f64
}

/// Draws the digits to the left of an edge.
pub(crate) fn draw(digits: &[Digit], edge: Points, into: &mut Group) {
    for ((note, finger, steps), column) in placed(digits) {
        let right = edge - SPACE * GAP - column_width(digits) * column as f64;
        let baseline = y_of(steps) + look::LEFT_FINGER * HALF_HEIGHT;
        let at = Point::new(right, baseline);
        let digit = pen::text_until(Face::Italic, look::LEFT_FINGER, &finger.to_string(), at);
        // Lines of the staff are interrupted behind a digit.
        if let Some(ink) = digit.bounds().filter(|_| (0..=8).contains(&steps)) {
            into.push(Path::rectangle(ink.grown(Points::new(0.35)), Ink::PAPER));
        }
        into.push(Group::of(Role::LeftFinger(note), digit));
    }
}
