//! The tablature's staff: string lines, clef, metre, bar lines and repeats.

use handspan_core::harmony::Key;
use handspan_core::time::Metre;
use handspan_core::tune::Bar;

use super::held::tablature_height;
use super::{notation, pen};
use crate::bar::BarContent;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::look::{self, SPACE, STRING_GAP};
use crate::points::{Point, Points, Rect};
use crate::system::{Line, PlacedBar};

/// From the last bar line of a line to what announces the next one, and from sign to sign there.
const AFTER_LAST: Points = Points::new(4.5);

/// The room that signs at the beginning of a bar take.
pub(crate) fn signs_width(bars: &[Bar], content: &BarContent) -> Points {
    let bar = &bars[content.bar];
    let repeat = if bar.repeat_start { look::REPEAT } else { Points::ZERO };
    let metre = if content.shows_metre { metre_width(bar.metre) + look::AFTER_METRE } else { Points::ZERO };
    repeat + key_width(bars, content) + metre
}

/// The room that the announcement of a bar's metre and key takes behind the last bar line of the line before.
pub(crate) fn tail_width(bars: &[Bar], content: &BarContent) -> Points {
    let metre =
        if content.shows_metre { metre_width(bars[content.bar].metre) + AFTER_LAST } else { Points::ZERO };
    match key_before(bars, content) {
        Some(_) => key_width(bars, content) + metre + AFTER_LAST,
        None => metre,
    }
}

/// The key that ends at a bar, where another begins on its five-line staff.
fn key_before(bars: &[Bar], content: &BarContent) -> Option<Key> {
    let before = content.bar.checked_sub(1)?;
    (content.notation.is_some() && content.changes_key).then(|| bars[before].key)
}

/// The room that a change of key takes on the five-line staff.
fn key_width(bars: &[Bar], content: &BarContent) -> Points {
    let before = key_before(bars, content);
    before.map_or(Points::ZERO, |before| notation::lines::change_width(before, bars[content.bar].key))
}

/// Draws the staff of a system.
pub(crate) fn staff(line: &Line, contents: &[BarContent], bars: &[Bar], strings: usize, into: &mut Group) {
    let mut group = Group::new(Role::Staff);
    let height = tablature_height(strings);
    for string in 0..strings {
        let y = STRING_GAP * string as f64;
        let (from, to) = (Point::new(Points::ZERO, y), Point::new(line.width + line.tail, y));
        group.push(Path::line(from, to, SPACE * width::STAFF_LINE, Ink::BLACK));
    }
    clef(height, &mut group);
    for placed in &line.bars {
        let bar = &bars[placed.bar];
        let mut x = placed.left;
        if bar.repeat_start {
            begin_repeat(x, height, strings, &mut group);
            x += look::REPEAT;
        }
        x += key_width(bars, &contents[placed.bar]);
        // Where there is a five-line staff, the metre stands there alone.
        if contents[placed.bar].shows_metre && contents[placed.bar].notation.is_none() {
            metre(bar.metre, x + Points::new(1.5) + metre_width(bar.metre) / 2.0, height, &mut group);
        }
        let end = End::of(bars, line, placed);
        end.draw(placed.right, height, &mut group);
        if end == End::Repeat {
            repeat_dots(placed.right - end_dots(), height, strings, &mut group);
        }
    }
    if let Some(next) = announced(line, contents).filter(|next| next.notation.is_none()) {
        let wide = metre_width(bars[next.bar].metre) / 2.0;
        metre(bars[next.bar].metre, line.width + AFTER_LAST + wide, height, &mut group);
    }
    into.push(group);
}

/// The bar that the end of a line announces.
fn announced<'a>(line: &Line, contents: &'a [BarContent]) -> Option<&'a BarContent> {
    let last = line.bars.last().filter(|_| line.tail > Points::ZERO)?;
    contents.get(last.bar + 1)
}

/// The clef, as high as the staff and the room for it bear, whatever the number of strings.
fn clef(height: Points, group: &mut Group) {
    // The sign is 6.05 staff spaces high (`glyphBBoxes` of the font).
    let space = (height * 0.86 / 6.05).min(Points::new(6.4));
    let middle = Point::new(look::CLEF / 2.0 - Points::new(0.5), height / 2.0);
    group.push(pen::sign_around(Sign::TabClef, space, middle));
}

/// The staff space of the figures of a metre.
fn metre_space() -> Points {
    SPACE * 1.45
}

/// The figures of a number with their widths.
fn figures(number: u8) -> Vec<(Sign, Points)> {
    let signs = number.to_string().into_bytes().into_iter().map(|byte| Sign::Metre(byte - b'0'));
    signs.map(|sign| (sign, pen::sign_width(sign, metre_space()))).collect()
}

fn number_width(number: u8) -> Points {
    figures(number).into_iter().map(|(_, width)| width).sum()
}

fn metre_width(metre: Metre) -> Points {
    number_width(metre.beats()).max(number_width(metre.unit()))
}

fn metre(metre: Metre, x: Points, height: Points, group: &mut Group) {
    let space = metre_space();
    let mut signature = Group::new(Role::Metre);
    for (number, middle) in [(metre.beats(), height / 2.0 - space), (metre.unit(), height / 2.0 + space)] {
        let mut left = x - number_width(number) / 2.0;
        for (figure, wide) in figures(number) {
            signature.push(pen::sign_around(figure, space, Point::new(left + wide / 2.0, middle)));
            left += wide;
        }
    }
    group.push(signature);
}

fn bar_line(middle: Points, thickness: f64, height: Points, group: &mut Group) {
    let half = SPACE * (thickness / 2.0);
    let over = SPACE * (width::STAFF_LINE / 2.0);
    let rect = Rect { left: middle - half, top: -over, right: middle + half, bottom: height + over };
    group.push(Path::rectangle(rect, Ink::BLACK));
}

fn thin(middle: Points, height: Points, group: &mut Group) {
    bar_line(middle, width::THIN_BAR_LINE, height, group);
}

/// From the middle of a thick line to the middle of the thin one beside it.
fn thick_to_thin() -> Points {
    SPACE * (width::THICK_BAR_LINE / 2.0 + width::BAR_LINE_GAP + width::THIN_BAR_LINE / 2.0)
}

fn final_line(right: Points, height: Points, group: &mut Group) {
    let thick = right - SPACE * (width::THICK_BAR_LINE / 2.0);
    bar_line(thick, width::THICK_BAR_LINE, height, group);
    thin(thick - thick_to_thin(), height, group);
}

/// From the end of a repeated part to the middle of its dots.
fn end_dots() -> Points {
    SPACE * (width::THICK_BAR_LINE / 2.0) + thick_to_thin() + dots_away()
}

/// How a bar ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum End {
    /// The beginning of a repeat has a line of its own.
    None,
    Thin,
    /// Two thin lines before a section (Read, "Music Notation", 1969; Gould, "Behind Bars", 2011; from memory).
    Double,
    Final,
    Repeat,
}

impl End {
    fn of(bars: &[Bar], line: &Line, placed: &PlacedBar) -> Self {
        let is_last_of_line = line.bars.last().is_some_and(|last| last.bar == placed.bar);
        match (bars[placed.bar].repeat_end, bars.get(placed.bar + 1)) {
            (Some(_), _) => Self::Repeat,
            (None, None) => Self::Final,
            (None, Some(next)) if next.repeat_start && !is_last_of_line => Self::None,
            (None, Some(next)) if next.section.is_some() => Self::Double,
            (None, Some(_)) => Self::Thin,
        }
    }

    fn draw(self, right: Points, height: Points, group: &mut Group) {
        let half = SPACE * (width::THIN_BAR_LINE / 2.0);
        match self {
            Self::None => {}
            Self::Thin => thin(right - half, height, group),
            Self::Double => {
                thin(right - half, height, group);
                thin(right - half * 3.0 - SPACE * width::BAR_LINE_GAP, height, group);
            }
            Self::Final | Self::Repeat => final_line(right, height, group),
        }
    }
}

/// How far the lines and dots at the end of a bar reach to the left of it.
pub(crate) fn end_width(bars: &[Bar], content: &BarContent) -> Points {
    let next = bars.get(content.bar + 1);
    if bars[content.bar].repeat_end.is_some() {
        end_dots() + pen::sign_width(Sign::RepeatDot, SPACE) / 2.0
    } else if next.is_none() {
        SPACE * (width::THICK_BAR_LINE + width::BAR_LINE_GAP + width::THIN_BAR_LINE)
    } else if next.is_some_and(|next| next.section.is_some()) {
        SPACE * (width::THIN_BAR_LINE * 2.0 + width::BAR_LINE_GAP)
    } else {
        SPACE * width::THIN_BAR_LINE
    }
}

/// The lines of a repeat's beginning; gives the middle of the thick one.
fn begin_repeat_lines(left: Points, height: Points, group: &mut Group) -> Points {
    let thick = left + SPACE * (width::THICK_BAR_LINE / 2.0);
    bar_line(thick, width::THICK_BAR_LINE, height, group);
    thin(thick + thick_to_thin(), height, group);
    thick
}

fn begin_repeat(left: Points, height: Points, strings: usize, group: &mut Group) {
    let thick = begin_repeat_lines(left, height, group);
    repeat_dots(thick + thick_to_thin() + dots_away(), height, strings, group);
}

/// Two dots between lines, at the same distance from the middle of the staff.
fn repeat_dots(x: Points, height: Points, strings: usize, group: &mut Group) {
    let away = if strings.is_multiple_of(2) { STRING_GAP } else { STRING_GAP * 0.5 };
    for y in [height / 2.0 - away, height / 2.0 + away] {
        group.push(pen::sign_around(Sign::RepeatDot, SPACE, Point::new(x, y)));
    }
}

/// Bar lines of the five-line staff whose lowest line lies at a height, drawn through down to the tablature, with the
/// signs at them.
pub(crate) fn join(
    line: &Line,
    contents: &[BarContent],
    bars: &[Bar],
    lowest_line: Points,
    into: &mut Group,
) {
    let mut through = Group::new(Role::Staff);
    let mut signs = Group::new(Role::Staff);
    let top = lowest_line - notation::SPACE * 4.0;
    through.at.y = top;
    signs.at.y = lowest_line;
    // A staff alone begins without a line.
    if lowest_line < Points::ZERO {
        thin(SPACE * (width::THIN_BAR_LINE / 2.0), -top, &mut through);
    }
    for (number, placed) in line.bars.iter().enumerate() {
        let (bar, content) = (&bars[placed.bar], &contents[placed.bar]);
        let mut x = placed.left;
        if bar.repeat_start {
            let thick = begin_repeat_lines(x, -top, &mut through);
            notation::lines::repeat_dots(thick + thick_to_thin() + dots_away(), &mut signs);
            x += look::REPEAT;
        }
        // At the beginning of a line the change stands beside the clef.
        if let Some(before) = key_before(bars, content).filter(|_| number > 0) {
            notation::lines::changed(before, bar.key, x + SPACE * 0.8, &mut signs);
        }
        x += key_width(bars, content);
        if content.shows_metre {
            notation::lines::metre(
                bar.metre,
                x + Points::new(1.5) + metre_width(bar.metre) / 2.0,
                &mut signs,
            );
        }
        let end = End::of(bars, line, placed);
        end.draw(placed.right, -top, &mut through);
        if end == End::Repeat {
            notation::lines::repeat_dots(placed.right - end_dots(), &mut signs);
        }
    }
    if let Some(next) = announced(line, contents) {
        announce(next, bars, line.width + AFTER_LAST, &mut signs);
    }
    into.push(through);
    into.push(signs);
}

/// The key and metre of the bar with which the next line begins.
fn announce(next: &BarContent, bars: &[Bar], mut x: Points, signs: &mut Group) {
    if let Some(before) = key_before(bars, next) {
        notation::lines::changed(before, bars[next.bar].key, x, signs);
        x += key_width(bars, next);
    }
    if next.shows_metre {
        let metre = bars[next.bar].metre;
        notation::lines::metre(metre, x + metre_width(metre) / 2.0, signs);
    }
}

/// From the thin line of a repeat to its dots.
fn dots_away() -> Points {
    SPACE * (width::REPEAT_DOT_GAP + 0.45)
}
