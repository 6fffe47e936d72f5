//! The staff itself: lines, clef, key, metre, repeats.

use handspan_core::harmony::Key;
use handspan_core::time::Metre;

use super::{SPACE, Steps, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::points::{Point, Points};

/// The places of the signature's sharps and flats, in their order.
const SHARPS: [Steps; 7] = [8, 5, 9, 6, 3, 7, 4];
const FLATS: [Steps; 7] = [4, 7, 3, 6, 2, 5, 1];

fn step_width(alter: i8) -> Points {
    pen::sign_width(Sign::Accidental(alter), SPACE) + SPACE * 0.05
}

fn clef_width() -> Points {
    pen::sign_width(Sign::TrebleClef, SPACE) + SPACE * 1.3
}

/// What clef and key take at the beginning of a line.
pub(crate) fn head_width(key: Key) -> Points {
    let alter = key.fifths().signum();
    clef_width() + step_width(alter) * f64::from(key.fifths().unsigned_abs()) + SPACE * 0.5
}

/// Draws the lines, clef and key. What a change of key cancels stands at the end of the line before.
pub(crate) fn draw(key: Key, right: Points, into: &mut Group) {
    let mut group = Group::new(Role::Staff);
    for line in 0..5 {
        let y = y_of(2 * line);
        let (from, to) = (Point::new(Points::ZERO, y), Point::new(right, y));
        group.push(Path::line(from, to, SPACE * width::STAFF_LINE, Ink::BLACK));
    }
    // The treble clef's curl lies around the line of G, the second one.
    group.push(pen::sign_at(Sign::TrebleClef, SPACE, Point::new(SPACE * 0.6, y_of(2))));
    row(&signs(key), clef_width(), &mut group);
    into.push(group);
}

/// The signs of a change of key, in their order: naturals for what no longer holds, then the new signature.
fn change(before: Key, key: Key) -> Vec<(i8, Steps)> {
    let (old, new) = (signs(before), signs(key));
    let ended = old.into_iter().filter(|sign| !new.contains(sign)).map(|(_, steps)| (0, steps));
    ended.collect::<Vec<_>>().into_iter().chain(new.iter().copied()).collect()
}

/// The sharps or flats of a key: how far each alters, and where it stands.
fn signs(key: Key) -> Vec<(i8, Steps)> {
    let alter = key.fifths().signum();
    let places = if alter > 0 { SHARPS } else { FLATS };
    places.into_iter().take(usize::from(key.fifths().unsigned_abs())).map(|steps| (alter, steps)).collect()
}

/// The room of a key that changes inside a line.
pub(crate) fn change_width(before: Key, key: Key) -> Points {
    change(before, key).into_iter().map(|(alter, _)| step_width(alter)).sum::<Points>() + SPACE
}

/// Draws a change of key.
pub(crate) fn changed(before: Key, key: Key, left: Points, into: &mut Group) {
    row(&change(before, key), left, into);
}

fn row(signs: &[(i8, Steps)], mut x: Points, into: &mut Group) {
    for (alter, steps) in signs {
        into.push(pen::sign_at(Sign::Accidental(*alter), SPACE, Point::new(x, y_of(*steps))));
        x += step_width(*alter);
    }
}

/// Draws a metre around a middle.
pub(crate) fn metre(metre: Metre, x: Points, into: &mut Group) {
    let mut group = Group::new(Role::Metre);
    for (number, place) in [(metre.beats(), 6), (metre.unit(), 2)] {
        let figures: Vec<Sign> = number.to_string().bytes().map(|byte| Sign::Metre(byte - b'0')).collect();
        let widths: Vec<Points> = figures.iter().map(|f| pen::sign_width(*f, SPACE)).collect();
        let mut left = x - widths.iter().copied().sum::<Points>() / 2.0;
        for (figure, wide) in figures.into_iter().zip(widths) {
            group.push(pen::sign_around(figure, SPACE, Point::new(left + wide / 2.0, y_of(place))));
            left += wide;
        }
    }
    into.push(group);
}

/// Draws the two dots of a repeat.
pub(crate) fn repeat_dots(x: Points, into: &mut Group) {
    for place in [3, 5] {
        into.push(pen::sign_around(Sign::RepeatDot, SPACE, Point::new(x, y_of(place))));
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::harmony::Mode;

    use super::*;

    #[test]
    fn a_change_of_key_cancels_what_no_longer_holds() {
        let changed = |before, key| -> Vec<i8> {
            let key_of = |fifths| Key::try_new(fifths, Mode::Major).unwrap_or_default();
            change(key_of(before), key_of(key)).into_iter().map(|(alter, _)| alter).collect()
        };
        assert_eq!(changed(3, 1), [0, 0, 1]);
        assert_eq!(changed(1, -2), [0, -1, -1]);
        assert_eq!(changed(-2, 0), [0, 0]);
        assert_eq!(changed(0, 2), [1, 1]);
    }
}
