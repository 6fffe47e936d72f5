//! Left-hand digits to the left of heads and accidentals, each at the height of its note (common practice, no source).

use handspan_core::hand::Finger;

use super::{SPACE, Steps, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};

/// From what stands to the right, ledger lines included, to the digit.
const GAP: f64 = 0.52;
/// Digits nearer than this many steps stand side by side.
const NEAR: Steps = 2;
/// Half the height of a figure in its own size, measured in the font.
const HALF_HEIGHT: f64 = 0.325;

/// A digit: its note as an index into the score, the finger, and where the head stands.
pub(crate) type Digit = (usize, Finger, Steps);

/// The digits with the places of their baselines' right ends: `edge_of` is the left edge of what a digit at a height
/// stands beside.
fn placed(digits: &[Digit], edge_of: impl Fn(Steps) -> Points) -> Vec<(Digit, Points)> {
    let mut from_above = digits.to_vec();
    from_above.sort_by_key(|(_, _, steps)| -steps);
    let mut placed: Vec<(Digit, Points)> = Vec::new();
    for digit in from_above {
        let near = placed.iter().filter(|((_, _, steps), _)| (steps - digit.2).abs() < NEAR);
        let beside = near.map(|((_, finger, _), right)| *right - width(*finger));
        let right = beside.fold(edge_of(digit.2), Points::min) - SPACE * GAP;
        placed.push((digit, right));
    }
    placed
}

fn width(finger: Finger) -> Points {
    pen::width(Face::Italic, look::LEFT_FINGER, &finger.to_string())
}

/// The left edge of all digits; none where there are none.
pub(crate) fn left(digits: &[Digit], edge_of: impl Fn(Steps) -> Points) -> Option<Points> {
    let placed = placed(digits, edge_of).into_iter();
    placed.map(|((_, finger, _), right)| right - width(finger)).reduce(Points::min)
}

/// Draws the digits.
pub(crate) fn draw(digits: &[Digit], edge_of: impl Fn(Steps) -> Points, into: &mut Group) {
    for ((note, finger, steps), right) in placed(digits, edge_of) {
        let at = Point::new(right, y_of(steps) + look::LEFT_FINGER * HALF_HEIGHT);
        let digit = pen::text_until(Face::Italic, look::LEFT_FINGER, &finger.to_string(), at);
        // Lines of the staff are interrupted behind a digit.
        if let Some(ink) = digit.bounds().filter(|_| (0..=8).contains(&steps)) {
            into.push(Path::rectangle(ink.grown(Points::new(0.35)), Ink::PAPER));
        }
        into.push(Group::of(Role::LeftFinger(note), digit));
    }
}
