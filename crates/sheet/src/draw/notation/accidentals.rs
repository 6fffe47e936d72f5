//! Accidentals to the left of the heads, in as many columns as they need.

use super::{SPACE, Steps, y_of};
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
    let mut from_above = signs.to_vec();
    from_above.sort_by_key(|(_, steps)| -steps);
    let mut placed: Vec<(Accidental, usize)> = Vec::new();
    for sign in from_above {
        let taken =
            |column: usize| placed.iter().any(|((_, s), c)| *c == column && (s - sign.1).abs() < NEAR);
        let column = (0..placed.len()).find(|column| !taken(*column)).unwrap_or(placed.len());
        placed.push((sign, column));
    }
    placed
}

/// Columns are as wide as the widest sign; a double flat is wider than the others.
fn column_width(signs: &[Accidental]) -> Points {
    let widths = signs.iter().map(|(alter, _)| pen::sign_width(Sign::Accidental(*alter), SPACE));
    widths.fold(Points::ZERO, Points::max) + SPACE * GAP
}

/// How far the signs reach to the left of the heads.
pub(crate) fn reach(signs: &[Accidental]) -> Points {
    let columns = placed(signs).into_iter().map(|(_, column)| column + 1).max().unwrap_or(0);
    column_width(signs) * columns as f64
}

/// The left edges of the signs to the left of an edge, each with its height.
pub(crate) fn lefts(signs: &[Accidental], edge: Points) -> Vec<(Steps, Points)> {
    let step = column_width(signs);
    let left = |((alter, steps), column): (Accidental, usize)| {
        let right = edge - SPACE * GAP - step * column as f64;
        (steps, right - pen::sign_width(Sign::Accidental(alter), SPACE))
    };
    placed(signs).into_iter().map(left).collect()
}

/// Draws the signs to the left of an edge.
pub(crate) fn draw(signs: &[Accidental], edge: Points, into: &mut Group) {
    for ((alter, steps), column) in placed(signs) {
        let sign = Sign::Accidental(alter);
        let right = edge - SPACE * GAP - column_width(signs) * column as f64;
        let at = Point::new(right - pen::sign_width(sign, SPACE), y_of(steps));
        into.push(Group::of(Role::Accidental, pen::sign_at(sign, SPACE, at)));
    }
}
