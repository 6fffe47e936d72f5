//! Accidentals to the left of the heads, in as many columns as they need.

use super::{SPACE, Steps, in_columns, y_of};
use crate::draw::pen;
use crate::frame::{Group, Role};
use crate::glyph::smufl::Sign;
use crate::points::{Point, Points};

/// From the heads to the first column, and from column to column.
const GAP: f64 = 0.22;
/// Signs nearer than this many steps stand in different columns.
const NEAR: Steps = 7;

/// An accidental: how far it alters, and where it stands.
pub(crate) type Accidental = (i8, Steps);

fn placed(signs: &[Accidental]) -> Vec<(Accidental, usize)> {
    in_columns(signs, |(_, steps)| *steps, NEAR)
}

fn column_width() -> Points {
    pen::sign_width(Sign::Accidental(1), SPACE) + SPACE * GAP
}

/// How far the signs reach to the left of the heads.
pub(crate) fn reach(signs: &[Accidental]) -> Points {
    let columns = placed(signs).into_iter().map(|(_, column)| column + 1).max().unwrap_or(0);
    column_width() * columns as f64
}

/// Draws the signs to the left of an edge.
pub(crate) fn draw(signs: &[Accidental], edge: Points, into: &mut Group) {
    for ((alter, steps), column) in placed(signs) {
        let sign = Sign::Accidental(alter);
        let right = edge - SPACE * GAP - column_width() * column as f64;
        let at = Point::new(right - pen::sign_width(sign, SPACE), y_of(steps));
        into.push(Group::of(Role::Accidental, pen::sign_at(sign, SPACE, at)));
    }
}
