//! A system put together from its parts.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;

use super::held::tablature_height;
use super::rhythm::Row;
use super::{chord_box, chord_name, column, held, pen, rhythm, signs, staff, ties};
use crate::bar::BarContent;
use crate::bar::ringing::Ringing;
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};
use crate::system::{Line, PlacedBar};

/// All that systems are drawn from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Source<'a> {
    pub score: &'a Score,
    pub contents: &'a [BarContent],
    pub ringing: Ringing<'a>,
    /// The grip shown at each chord symbol.
    pub boxes: &'a [Option<Grip>],
}

/// Draws a system; its origin lies at the left end of the highest string's line.
pub(crate) fn system(source: Source<'_>, line: &Line, number: usize) -> Group {
    let Source { score, contents, .. } = source;
    let strings = score.instrument.string_count();
    let bottom = tablature_height(strings);
    let row = Row { top: bottom + look::STEM_DROP };
    let mut group = Group::new(Role::System(number));
    held::held(source, line, &mut group);
    staff::staff(line, contents, score.tune.bars(), strings, &mut group);
    let right_hand = row.top + look::STEM + look::RIGHT_FINGER_DROP + tuplet_room(contents, line);
    for placed in &line.bars {
        bar(source, placed, row, right_hand, &mut group);
    }
    ties::ties(contents, line, row, &mut group);
    let above = chords(source, line, &mut group);
    signs::signs(&score.tune, line, above - look::ROW_GAP, &mut group);
    if number > 0 {
        bar_number(score, line, &mut group);
    }
    group
}

/// Draws a bar; the right-hand letters stand on the baseline `right_hand`.
fn bar(source: Source<'_>, placed: &PlacedBar, row: Row, right_hand: Points, group: &mut Group) {
    let content = &source.contents[placed.bar];
    for (column, x) in content.columns.iter().zip(&placed.columns) {
        for index in column.notes.clone() {
            column::note(&source.score.notes[index], index, *x, group);
        }
        let notes = &source.score.notes[column.notes.clone()];
        column::right_fingers(notes, Point::new(*x, right_hand), group);
    }
    let xs: Vec<Points> = (0..content.voice.elements.len())
        .filter_map(|element| {
            let column = content.columns.iter().position(|c| c.element == Some(element))?;
            Some(placed.columns[column])
        })
        .collect();
    rhythm::bar(&content.voice, &xs, row, (placed.left, placed.right), group);
}

/// What the figure of a tuplet takes between the stems and the right-hand letters.
fn tuplet_room(contents: &[BarContent], line: &Line) -> Points {
    let has_tuplet = |placed: &PlacedBar| !contents[placed.bar].voice.tuplets.is_empty();
    if line.bars.iter().any(has_tuplet) { Points::new(7.0) } else { Points::ZERO }
}

/// Chord boxes, and chord symbols above them on one line; gives the height they reach.
fn chords(source: Source<'_>, line: &Line, group: &mut Group) -> Points {
    let columns = line.bars.iter().flat_map(|placed| {
        let columns = source.contents[placed.bar].columns.iter();
        columns.zip(&placed.columns).filter_map(|(column, x)| Some((column.chord?, *x)))
    });
    let chords: Vec<(usize, Points)> = columns.collect();
    let bottom = -look::CLEARANCE;
    let boxes = chords.iter().filter_map(|(chord, x)| Some((source.boxes[*chord].as_ref()?, *x)));
    let mut top = Points::ZERO;
    for (grip, x) in boxes {
        chord_box::draw(grip, &source.score.instrument, x, bottom, group);
        top = top.max(chord_box::height(grip));
    }
    if chords.is_empty() {
        return bottom;
    }
    let baseline = bottom - top - if top > Points::ZERO { look::ROW_GAP } else { Points::ZERO };
    for (chord, x) in &chords {
        chord_name::draw(&source.score.tune.chords()[*chord].symbol, *x, baseline, group);
    }
    baseline - look::CHORD
}

fn bar_number(score: &Score, line: &Line, group: &mut Group) {
    if let Some(first) = line.bars.first() {
        let number = &score.tune.bars()[first.bar].number;
        let place = Point::new(Points::ZERO, Points::new(-4.0));
        let run = pen::text_from(Face::Italic, look::BAR_NUMBER, number, place);
        group.push(Group::of(Role::BarNumber(first.bar), run));
    }
}
