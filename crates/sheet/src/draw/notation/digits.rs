//! Left-hand digits to the left of heads and accidentals, each in a space so that no line runs through it: at the
//! height of its note or, for a note on a line, in the space above or, where that is taken, below (common practice of
//! guitar editions, no source).

use handspan_core::hand::Finger;

use super::{SPACE, Steps, y_of};
use crate::draw::pen;
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};

/// From what stands to the right, ledger lines included, to the digit.
const GAP: f64 = 0.52;
/// Half the height of a figure in its own size, measured in the font.
const HALF_HEIGHT: f64 = 0.325;

/// A digit: its note as an index into the score, the finger, and where the head stands.
pub(crate) type Digit = (usize, Finger, Steps);

/// The digits in their spaces, with the places of their baselines' right ends: `edge_of` is the left edge of what a
/// digit at a height stands beside.
fn placed(digits: &[Digit], edge_of: impl Fn(Steps) -> Points) -> Vec<(Digit, Points)> {
    let mut from_above = digits.to_vec();
    from_above.sort_by_key(|(_, _, steps)| -steps);
    let mut placed: Vec<(Digit, Points)> = Vec::new();
    for (note, finger, steps) in from_above {
        let free = |space: &Steps| placed.iter().all(|((_, _, taken), _)| taken != space);
        let spaces = if steps % 2 == 0 { [steps + 1, steps - 1] } else { [steps, steps] };
        let space = spaces.into_iter().find(free).unwrap_or(spaces[0]);
        let near = placed.iter().filter(|((_, _, taken), _)| *taken == space);
        let beside = near.map(|((_, finger, _), right)| *right - width(*finger));
        let right = beside.fold(edge_of(space), Points::min) - SPACE * GAP;
        placed.push(((note, finger, space), right));
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
    for ((note, finger, space), right) in placed(digits, edge_of) {
        let at = Point::new(right, y_of(space) + look::LEFT_FINGER * HALF_HEIGHT);
        let digit = pen::text_until(Face::Italic, look::LEFT_FINGER, &finger.to_string(), at);
        into.push(Group::of(Role::LeftFinger(note), digit));
    }
}
