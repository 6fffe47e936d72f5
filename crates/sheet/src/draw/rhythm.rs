//! The row of rhythm under the tablature: stems, flags, beams, dots, rests, tuplet figures.
//!
//! A quarter and shorter values have a whole stem, a half note a short one, a whole note none (common practice).

use std::ops::Range;

use super::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::look::{self, SPACE};
use crate::points::{Point, Points, Rect};
use crate::rhythm::{Element, Kind, Value, Voice};

/// From the stem to its dot.
const DOT_GAP: Points = Points::new(2.2);
/// From dot to dot.
const DOT_STEP: Points = Points::new(3.4);
/// The height of the figures of tuplets, as staff spaces.
const TUPLET_SPACE: Points = Points::new(4.4);

/// How far a rest reaches to either side.
pub(crate) fn rest_extent(value: Value) -> (Points, Points) {
    let half = pen::sign_width(Sign::Rest(value.power), SPACE) / 2.0;
    (half, half + dots_width(value))
}

/// How far a stem with flag and dots reaches to either side.
pub(crate) fn stem_extent(value: Value) -> (Points, Points) {
    let flag =
        if value.flags() > 0 { pen::sign_width(Sign::FlagDown(value.flags()), SPACE) } else { Points::ZERO };
    (Points::ZERO, flag + dots_width(value))
}

fn dots_width(value: Value) -> Points {
    if value.dots == 0 { Points::ZERO } else { DOT_GAP + DOT_STEP * f64::from(value.dots) }
}

/// The row: where the stems begin.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// The upper end of the stems.
    pub top: Points,
}

impl Row {
    fn bottom(self) -> Points {
        self.top + look::STEM
    }

    /// The middle of a rest.
    fn middle(self) -> Points {
        self.top + look::STEM * 0.5
    }
}

/// Draws the rhythm of a bar whose elements stand at these places.
pub(crate) fn bar(voice: &Voice, xs: &[Points], row: Row, ends: (Points, Points), into: &mut Group) {
    let whole_rest = voice.elements.len() == 1 && voice.elements[0].kind == Kind::Rest;
    for (index, element) in voice.elements.iter().enumerate() {
        match element.kind {
            Kind::Rest if whole_rest => {
                let at = Point::new(ends.0 + (ends.1 - ends.0) / 2.0, row.middle());
                into.push(Group::of(Role::Rest, pen::sign_around(Sign::Rest(0), SPACE, at)));
            }
            Kind::Rest => rest(element.value, xs[index], row, into),
            Kind::Struck | Kind::Tied => {
                let beamed = voice.beams.iter().any(|group| group.contains(&index));
                stem(element.value, xs[index], row, !beamed, into);
            }
        }
    }
    for group in &voice.beams {
        beam(&voice.elements, group, xs, row, into);
    }
    for (index, tuplet) in voice.tuplets.iter().enumerate() {
        let members: Vec<usize> =
            (0..xs.len()).filter(|i| voice.elements[*i].tuplet == Some(index)).collect();
        tuplet_figure(tuplet.actual, &members, voice, xs, row, into);
    }
}

fn rest(value: Value, x: Points, row: Row, into: &mut Group) {
    let sign = pen::sign_around(Sign::Rest(value.power), SPACE, Point::new(x, row.middle()));
    let edge = sign.bounds().map_or(x, |ink| ink.right);
    let mut group = Group::of(Role::Rest, sign);
    dots(value, edge - DOT_GAP * 0.5, row.middle() - SPACE * 0.5, &mut group);
    into.push(group);
}

fn dots(value: Value, x: Points, y: Points, group: &mut Group) {
    for dot in 0..value.dots {
        let at = Point::new(x + DOT_GAP + DOT_STEP * f64::from(dot), y);
        group.push(pen::sign_at(Sign::Dot, SPACE, at));
    }
}

fn stem(value: Value, x: Points, row: Row, flagged: bool, into: &mut Group) {
    let mut group = Group::new(Role::Stem);
    let bottom = if value.power == 1 { row.top + look::STEM * 0.45 } else { row.bottom() };
    if value.power > 0 {
        let line = Path::line(Point::new(x, row.top), Point::new(x, bottom), SPACE * width::STEM, Ink::BLACK);
        group.push(line);
    }
    if flagged && value.flags() > 0 {
        let at = Point::new(x - SPACE * (width::STEM / 2.0), row.bottom());
        group.push(pen::sign_at(Sign::FlagDown(value.flags()), SPACE, at));
    }
    // A dot stands to the right of a flag and above the beams.
    let (aside, up) = match (value.flags(), flagged) {
        (0, _) => (Points::ZERO, SPACE * 0.3),
        (flags, true) => (pen::sign_width(Sign::FlagDown(flags), SPACE) - DOT_GAP * 0.5, SPACE),
        (flags, false) => (Points::ZERO, SPACE * (0.5 + (width::BEAM + width::BEAM_GAP) * f64::from(flags))),
    };
    dots(value, x + aside, bottom - up, &mut group);
    if !group.items.is_empty() {
        into.push(group);
    }
}

/// The beams of a group, the first at the end of the stems and each further one above it.
fn beam(elements: &[Element], group: &Range<usize>, xs: &[Points], row: Row, into: &mut Group) {
    let half_stem = SPACE * (width::STEM / 2.0);
    let mut beams = Group::new(Role::Beam);
    let most = elements[group.clone()].iter().map(|e| e.value.flags()).max().unwrap_or(0);
    for level in 1..=most {
        let bottom = row.bottom() - SPACE * ((width::BEAM + width::BEAM_GAP) * f64::from(level - 1));
        for run in runs(elements, group, level) {
            let (mut left, mut right) = (xs[run.start], xs[run.end - 1]);
            if run.len() == 1 {
                // A short beam points into the group.
                if run.start == group.start { right += SPACE } else { left -= SPACE }
            }
            let rect = Rect {
                left: left - half_stem,
                top: bottom - SPACE * width::BEAM,
                right: right + half_stem,
                bottom,
            };
            beams.push(Path::rectangle(rect, Ink::BLACK));
        }
    }
    into.push(beams);
}

/// The stretches of a group that carry at least so many beams.
fn runs(elements: &[Element], group: &Range<usize>, level: u8) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for index in group.clone().filter(|i| elements[*i].value.flags() >= level) {
        match runs.last_mut() {
            Some(run) if run.end == index => run.end = index + 1,
            _ => runs.push(index..index + 1),
        }
    }
    runs
}

/// The figure under a tuplet, with a bracket where no beam joins all of it.
fn tuplet_figure(actual: u8, members: &[usize], voice: &Voice, xs: &[Points], row: Row, into: &mut Group) {
    let (Some(first), Some(last)) = (members.first(), members.last()) else { return };
    let (left, right) = (xs[*first], xs[*last]);
    let middle = left + (right - left) / 2.0;
    let y = row.bottom() + Points::new(4.6);
    let mut group = Group::new(Role::Tuplet);
    let figure = pen::sign_around(Sign::Tuplet(actual), TUPLET_SPACE, Point::new(middle, y));
    let gap = figure.bounds().map_or(Points::ZERO, |ink| ink.width() / 2.0) + Points::new(1.6);
    group.push(figure);
    let joined = voice.beams.iter().any(|beam| beam.contains(first) && beam.contains(last));
    if !joined && right - left > gap * 2.0 {
        let pen = SPACE * 0.16;
        let ends = [(left - Points::new(1.5), middle - gap), (right + Points::new(1.5), middle + gap)];
        for (outer, inner) in ends {
            group.push(Path::line(Point::new(outer, y), Point::new(inner, y), pen, Ink::BLACK));
            group.push(Path::line(
                Point::new(outer, y),
                Point::new(outer, y - Points::new(2.8)),
                pen,
                Ink::BLACK,
            ));
        }
    }
    into.push(group);
}
