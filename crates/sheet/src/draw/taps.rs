//! Taps: crosses in the space above the staff, beside what is struck with them, and on a free string of the tablature
//! (common practice, no source).

use std::collections::BTreeSet;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::time::Ticks;

use super::column::string_y;
use super::notation::{SPACE, Steps, y_of};
use super::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::Sign;
use crate::look;
use crate::points::{Point, Points, Rect};

/// The space above the highest line, in steps from the lowest.
const PLACE: Steps = 9;
/// The white between a cross and what it stands beside, in staff spaces.
const BESIDE: f64 = 0.4;

/// The tap at a time, by its index.
pub(crate) fn at(score: &Score, at: Ticks) -> Option<usize> {
    score.taps.binary_search_by_key(&at, |tap| tap.at).ok()
}

/// Half the width of a cross on the staff.
fn half() -> Points {
    pen::sign_width(Sign::Cross, SPACE) / 2.0
}

/// The box of a cross on the staff whose column lies at 0, with some white around.
pub(crate) fn cross() -> Rect {
    let (x, y, white) = (half(), y_of(PLACE), SPACE * BESIDE);
    Rect { left: -x, top: y - half(), right: x, bottom: y + half() }.grown(white)
}

/// How far a cross reaches to the right of its column, beside what reaches to `right` there, and to the left.
pub(crate) fn extent(right: Option<Points>) -> (Points, Points) {
    match right {
        None => (half(), half()),
        Some(right) => (Points::ZERO, right + SPACE * BESIDE + half() * 2.0),
    }
}

/// A cross on the staff, in its column or beside what reaches to `right` there.
pub(crate) fn on_staff(tap: usize, x: Points, right: Option<Points>, into: &mut Group) {
    let middle = right.map_or(x, |right| x + right + SPACE * BESIDE + half());
    let cross = pen::sign_around(Sign::Cross, SPACE, Point::new(middle, y_of(PLACE)));
    into.push(Group::of(Role::TapHead(tap), cross));
}

/// A cross in the tablature: on the free string nearest to the middle.
pub(crate) fn on_strings(tap: usize, score: &Score, struck: &[ScoreNote], x: Points, into: &mut Group) {
    let taken: BTreeSet<usize> = struck.iter().map(|note| note.place.string.index()).collect();
    let middle = score.instrument.string_count() / 2;
    let strings = score.instrument.strings().filter(|string| !taken.contains(&string.index()));
    let Some(string) = strings.min_by_key(|string| (string.index().abs_diff(middle), string.index())) else {
        return;
    };
    let line = string_y(string);
    let cross = pen::sign_around(Sign::Cross, look::SPACE, Point::new(x, line));
    let reach = pen::sign_width(Sign::Cross, look::SPACE) / 2.0;
    let clear = Rect { left: x - reach, top: line - reach, right: x + reach, bottom: line + reach };
    into.push(Path::rectangle(clear, Ink::PAPER));
    into.push(Group::of(Role::TapFigure(tap), cross));
}
