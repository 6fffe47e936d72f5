//! Accidentals to the left of the heads, in as many columns as they need.
//!
//! They are placed from the outside inwards, the highest first, then the lowest, the second highest and so on, each as
//! near to the heads as the ink of those before it leaves room (Ross, "The Art of Music Engraving and Processing", 1970;
//! Gould, "Behind Bars", 2011; both from memory). So the outer ones of a chord wider than a sixth stand above one
//! another, and those of a triad lean away from its top.

use super::{SPACE, Steps, y_of};
use crate::draw::pen;
use crate::frame::{GlyphRun, Group, Role};
use crate::glyph::smufl::Sign;
use crate::points::{Point, Points, Rect};

/// From the heads to the first column, and from column to column.
const GAP: f64 = 0.22;
/// The least white between two signs in a column, which lets flats a sixth apart share one.
const ABOVE: f64 = 0.02;

/// An accidental: how far it alters, and where it stands.
pub(crate) type Accidental = (i8, Steps);

/// A sign with its right edge at a place.
fn sign((alter, steps): Accidental, right: Points) -> GlyphRun {
    let sign = Sign::Accidental(alter);
    pen::sign_at(sign, SPACE, Point::new(right - pen::sign_width(sign, SPACE), y_of(steps)))
}

fn ink(accidental: Accidental, right: Points) -> Rect {
    let at = Point::new(right, y_of(accidental.1));
    sign(accidental, right).bounds().unwrap_or(Rect::between(at, at))
}

/// The order in which they are placed: the highest, the lowest, the second highest and so on.
fn inwards(signs: &[Accidental]) -> Vec<Accidental> {
    let mut left = signs.to_vec();
    left.sort_by_key(|(_, steps)| -steps);
    let next = |turn: usize| {
        let place = if turn.is_multiple_of(2) { 0 } else { left.len() - 1 };
        left.remove(place)
    };
    (0..signs.len()).map(next).collect()
}

/// The signs with their right edges, to the left of an edge.
fn placed(signs: &[Accidental], edge: Points) -> Vec<(Accidental, Points)> {
    let mut columns: Vec<Vec<Accidental>> = Vec::new();
    for sign in inwards(signs) {
        let mine = ink(sign, Points::ZERO);
        let is_free = |column: &Vec<Accidental>| {
            let others = column.iter().map(|other| ink(*other, Points::ZERO));
            let gap = SPACE * ABOVE;
            others.into_iter().all(|other| mine.bottom + gap <= other.top || other.bottom + gap <= mine.top)
        };
        match columns.iter().position(is_free) {
            Some(column) => columns[column].push(sign),
            None => columns.push(vec![sign]),
        }
    }
    let mut placed = Vec::new();
    let mut right = edge - SPACE * GAP;
    for column in columns {
        let widths = column.iter().map(|(alter, _)| pen::sign_width(Sign::Accidental(*alter), SPACE));
        let wide = widths.fold(Points::ZERO, Points::max);
        placed.extend(column.into_iter().map(|sign| (sign, right)));
        right -= wide + SPACE * GAP;
    }
    placed
}

/// How far the signs reach to the left of the heads.
pub(crate) fn reach(signs: &[Accidental]) -> Points {
    let lefts = placed(signs, Points::ZERO).into_iter().map(|(sign, right)| ink(sign, right).left);
    lefts.reduce(Points::min).map_or(Points::ZERO, |left| SPACE * GAP - left)
}

/// Whether a sign stands beside a ledger line, which reaches farther to the left than the heads.
pub(crate) fn is_beside(sign: Accidental, ledger_line: Steps) -> bool {
    let (ink, y, near) = (ink(sign, Points::ZERO), y_of(ledger_line), SPACE * GAP);
    ink.top < y + near && y < ink.bottom + near
}

/// The left edges of the signs to the left of an edge, each with its height.
pub(crate) fn lefts(signs: &[Accidental], edge: Points) -> Vec<(Steps, Points)> {
    placed(signs, edge).into_iter().map(|(sign, right)| (sign.1, ink(sign, right).left)).collect()
}

/// Draws the signs to the left of an edge.
pub(crate) fn draw(signs: &[Accidental], edge: Points, into: &mut Group) {
    for (accidental, right) in placed(signs, edge) {
        into.push(Group::of(Role::Accidental, sign(accidental, right)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The columns of signs at some heights, counted from the heads, in the order of the heights.
    fn columns(alter: i8, heights: &[Steps]) -> Vec<usize> {
        let signs: Vec<Accidental> = heights.iter().map(|steps| (alter, *steps)).collect();
        let placed = placed(&signs, Points::ZERO);
        let mut rights: Vec<f64> = placed.iter().map(|(_, right)| right.count()).collect();
        rights.sort_by(|a, b| b.total_cmp(a));
        rights.dedup();
        let column = |sign: &Accidental| {
            let (_, right) = placed.iter().find(|(other, _)| other == sign)?;
            rights.iter().position(|other| other.total_cmp(&right.count()).is_eq())
        };
        signs.iter().filter_map(column).collect()
    }

    /// Ross and Gould, from memory: the highest nearest to the heads, then the lowest, then what lies between; together
    /// from a seventh on, two flats from a sixth on.
    #[test]
    fn signs_stand_from_the_outside_inwards() {
        assert_eq!(columns(1, &[0, 2, 4]), [1, 2, 0]);
        assert_eq!(columns(1, &[0, 2, 4, 6]), [0, 2, 1, 0]);
        assert_eq!(columns(1, &[0, 5]), [1, 0]);
        assert_eq!(columns(1, &[0, 6]), [0, 0]);
        assert_eq!(columns(-1, &[0, 5]), [0, 0]);
        assert_eq!(columns(0, &[0, 5]), [1, 0]);
    }
}
