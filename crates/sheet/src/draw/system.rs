//! A system put together from its parts.

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;
use handspan_core::neck::Fret;
use handspan_core::time::Ticks;

use super::held::tablature_height;
use super::notation::voices::BarNotes;
use super::notation::{self, lines};
use super::rhythm::Row;
use super::skyline::{Skyline, rows};
use super::{chords, column, held, left_hand, pen, remarks, rhythm, signs, staff, taps, ties};
use crate::bar::BarContent;
use crate::bar::barres::Barre;
use crate::bar::digits;
use crate::bar::ringing::Ringing;
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::options::SheetOptions;
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
    pub barres: &'a [Barre],
    /// The positions of the left hand, where they are printed.
    pub positions: &'a [(Ticks, Fret)],
    pub options: &'a SheetOptions,
    /// How wide the page is inside its margins.
    pub width: Points,
    /// How high.
    pub height: Points,
}

/// Draws a system; its origin lies at the left end of the highest string's line, or of the lowest line of a staff alone.
pub(crate) fn system(source: Source<'_>, line: &Line, number: usize) -> Group {
    let Source { score, contents, options, .. } = source;
    let layout = options.layout;
    let strings = score.instrument.string_count();
    let bottom = tablature_height(strings);
    let row = Row { top: bottom + look::STEM_DROP };
    let mut group = Group::new(Role::System(number));
    if layout.has_tablature() {
        held::held(source, line, &mut group);
        staff::staff(line, contents, score.tune.bars(), strings, &mut group);
    }
    let five_lines = five_lines(source, line, &mut group);
    let right_hand = match (layout.has_tablature(), layout.has_staff()) {
        (true, false) => row.top + look::STEM + look::RIGHT_FINGER_DROP + tuplet_room(contents, line),
        (true, true) => bottom + look::RIGHT_FINGER_BELOW,
        (false, _) => five_lines.bottom + look::RIGHT_FINGER_BELOW,
    };
    for placed in &line.bars {
        bar(source, placed, row, right_hand, &mut group);
    }
    if !layout.has_staff() {
        ties::ties(contents, line, row, &mut group);
    }
    if number > 0 || line.bars.first().is_some_and(|first| first.bar > 0) {
        bar_number(score, line, five_lines.bar_number, &mut group);
    }
    above(source, line, &mut group);
    remarks::remarks(source, line, &mut group);
    group.described(description(source, line))
}

/// What a reader program says of a system: its bars and chords.
fn description(source: Source<'_>, line: &Line) -> String {
    let bars = source.score.tune.bars();
    let columns = line.bars.iter().flat_map(|placed| &source.contents[placed.bar].columns);
    let names = columns.filter_map(|column| Some(&source.score.tune.chords()[column.chord?].symbol));
    let names: Vec<String> = names.map(|symbol| format!("{symbol:#}")).collect();
    let ends = line.bars.first().zip(line.bars.last());
    let bars = match ends.map(|(first, last)| (&bars[first.bar].number, &bars[last.bar].number)) {
        Some((first, last)) if first == last => format!("Bar {first}."),
        Some((first, last)) => format!("Bars {first} to {last}."),
        None => String::new(),
    };
    if names.is_empty() { bars } else { format!("{bars} Chords: {}.", names.join(", ")) }
}

/// What stands above staff and tablature, row upon row.
fn above(source: Source<'_>, line: &Line, group: &mut Group) {
    let mut skyline = Skyline::of(group);
    for row in rows(left_hand::signs(source, line), look::BESIDE_SIGNS) {
        skyline.put_row(row, look::CLEARANCE, group);
    }
    chords::chords(source, line, &mut skyline, group);
    for row in rows(signs::signs(&source.score.tune, line), look::BESIDE_ENDINGS) {
        skyline.put_row(row, look::CLEARANCE, group);
    }
}

/// Draws a bar; the right-hand letters stand on the baseline `right_hand`.
fn bar(source: Source<'_>, placed: &PlacedBar, row: Row, right_hand: Points, group: &mut Group) {
    let content = &source.contents[placed.bar];
    let layout = source.options.layout;
    for (column, x) in content.columns.iter().zip(&placed.columns) {
        let notes = &source.score.notes[column.notes.clone()];
        if layout.has_tablature() {
            let mut reach = Points::ZERO;
            for (index, note) in column.notes.clone().zip(notes) {
                let digit = if layout.has_staff() { None } else { digits::printed(source.score, index) };
                column::note(note, index, *x, digit, group);
                reach = reach.max(column::note_extent(note, digit).0);
            }
            column::brush_on_strings(notes, *x, reach, group);
            if let Some(tap) = taps::at(source.score, column.at) {
                taps::on_strings(tap, source.score, notes, *x, group);
            }
        }
        column::right_fingers(notes, Point::new(*x, right_hand), group);
    }
    if content.notation.is_some() {
        return;
    }
    let xs: Vec<Points> = (0..content.voice.elements.len())
        .filter_map(|element| {
            let column = content.columns.iter().position(|c| c.element == Some(element))?;
            Some(placed.columns[column])
        })
        .collect();
    rhythm::bar(&content.voice, &xs, row, (placed.left, placed.right), group);
}

/// What the five-line staff leaves to what stands around it.
struct FiveLines {
    /// The baseline of the bar number.
    bar_number: Points,
    /// The lowest ink.
    bottom: Points,
}

/// Draws the five-line staff, where there is one: so high that nothing of it touches the tablature, or alone.
fn five_lines(source: Source<'_>, line: &Line, group: &mut Group) -> FiveLines {
    let Source { score, contents, .. } = source;
    let bars = score.tune.bars();
    let mut staff = Group::new(Role::Notation);
    if let Some(first) = line.bars.first().filter(|first| contents[first.bar].notation.is_some()) {
        lines::draw(bars[first.bar].key, line.width + line.tail, &mut staff);
    }
    for placed in &line.bars {
        let content = &contents[placed.bar];
        let Some(notation) = &content.notation else { continue };
        let x_of = |at: Ticks| {
            let column = content.columns.iter().position(|c| c.at == at);
            column.map_or(placed.left, |column| placed.columns[column])
        };
        let notes = BarNotes { score, bar: &bars[placed.bar], notation };
        notes.draw(x_of, (placed.left, placed.right), &mut staff);
    }
    notation::ties::ties(score, contents, line, &mut staff);
    let Some(ink) = staff.bounds() else {
        return FiveLines { bar_number: Points::new(-4.0), bottom: Points::ZERO };
    };
    if source.options.layout.has_tablature() {
        staff.at.y = -ink.bottom - look::STAFF_GAP;
    }
    let lowest_line = staff.at.y;
    group.push(staff);
    staff::join(line, contents, bars, lowest_line, group);
    FiveLines { bar_number: lowest_line - notation::SPACE * 5.7, bottom: lowest_line + ink.bottom }
}

/// What the figure of a tuplet takes between the stems and the right-hand letters.
fn tuplet_room(contents: &[BarContent], line: &Line) -> Points {
    let has_tuplet = |placed: &PlacedBar| !contents[placed.bar].voice.tuplets.is_empty();
    if line.bars.iter().any(has_tuplet) { Points::new(7.0) } else { Points::ZERO }
}

fn bar_number(score: &Score, line: &Line, baseline: Points, group: &mut Group) {
    if let Some(first) = line.bars.first() {
        let number = &score.tune.bars()[first.bar].number;
        let place = Point::new(Points::ZERO, baseline);
        let run = pen::text_from(Face::Italic, look::BAR_NUMBER, number, place);
        group.push(Group::of(Role::BarNumber(first.bar), run));
    }
}
