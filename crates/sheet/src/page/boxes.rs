//! Chord boxes alone: every chord with every grip it is played with, once, in the order in which they come.

use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;
use handspan_core::harmony::ChordSymbol;
use handspan_core::time::Ticks;

use super::finish::{page, type_area};
use super::heading::heading;
use crate::bar::boxes;
use crate::draw::chord_box::{self, Style};
use crate::draw::chord_name;
use crate::frame::{Frame, Group, Item, Role};
use crate::look;
use crate::options::SheetOptions;
use crate::points::{Point, Points, Rect};

/// How much larger than above a system the boxes are drawn where there is room, and the least.
const LARGEST: f64 = 2.0;
const SMALLEST: f64 = 1.0;
/// From one size tried to the next.
const STEP: f64 = 0.1;
/// The white between two boxes.
const GAP: Point = Point::new(Points::new(16.0), Points::new(14.0));

/// The cells of a page: how large, and how many.
struct Grid {
    scale: f64,
    cell: Point,
    columns: usize,
    rows: usize,
}

/// The pages of boxes; one, unless there are more chords than a page holds at the usual size.
pub(crate) fn pages(score: &Score, options: &SheetOptions) -> Vec<Frame> {
    let area = type_area(options);
    let (mut title_block, title_height) = heading(score, options, area.width());
    title_block.at = Point::new(area.left, area.top);
    let room =
        Rect { top: area.top + title_height + look::CHORD * 2.0, bottom: area.bottom - look::FOOTER, ..area };
    let chords = chords(score, &options.printed_times(score));
    let style = Style { instrument: &score.instrument, left_handed: options.left_handed_boxes };
    let grid = grid(&chords, style, room);
    let count = chords.len().div_ceil(grid.columns * grid.rows).max(1);
    let mut title_block = Some(title_block);
    (0..count)
        .map(|number| {
            let mut items: Vec<Item> = title_block.take().into_iter().map(Item::from).collect();
            let here = chords.iter().skip(number * grid.columns * grid.rows);
            for (index, (symbol, grip)) in here.take(grid.columns * grid.rows).enumerate() {
                let (row, column) = (index / grid.columns, index % grid.columns);
                let mut cell = cell(symbol, grip, style).enlarged(grid.scale);
                let step = room.width() / grid.columns as f64;
                cell.at = Point::new(room.left + step * column as f64, room.top + grid.cell.y * row as f64);
                items.push(cell.into());
            }
            page(items, options)
        })
        .collect()
}

/// Every pair of symbol and grip once.
fn chords(score: &Score, printed: &Range<Ticks>) -> Vec<(ChordSymbol, Grip)> {
    let mut found: Vec<(ChordSymbol, Grip)> = Vec::new();
    let chords = score.tune.chords().iter().zip(boxes::grips(score));
    for (chord, grip) in chords.filter(|(chord, _)| printed.contains(&chord.at)) {
        let pair = (chord.symbol.clone(), grip);
        if grip.len() >= 2 && !found.contains(&pair) {
            found.push(pair);
        }
    }
    found
}

/// The largest boxes that all find room on one page; the smallest where none do.
fn grid(chords: &[(ChordSymbol, Grip)], style: Style<'_>, room: Rect) -> Grid {
    let widths = chords
        .iter()
        .map(|(symbol, grip)| chord_name::width(symbol).max(chord_box::width(grip, style.instrument)));
    let heights = chords.iter().map(|(_, grip)| look::CHORD + look::ROW_GAP + chord_box::height(grip));
    let cell = Point::new(widths.fold(look::CHORD, Points::max), heights.fold(look::CHORD, Points::max))
        .moved(GAP.x, GAP.y);
    let at_scale = |scale: f64| {
        let cell = Point::new(cell.x * scale, cell.y * scale);
        let fitting = |room: Points, one: Points| ((room / one) as usize).max(1);
        Grid { scale, cell, columns: fitting(room.width(), cell.x), rows: fitting(room.height(), cell.y) }
    };
    let steps = ((LARGEST - SMALLEST) / STEP) as u32;
    let mut tried = (0..steps).map(|step| at_scale(LARGEST - STEP * f64::from(step)));
    tried.find(|grid| grid.columns * grid.rows >= chords.len()).unwrap_or_else(|| at_scale(SMALLEST))
}

/// A symbol above its box, from the upper left corner.
fn cell(symbol: &ChordSymbol, grip: &Grip, style: Style<'_>) -> Group {
    let mut cell = Group::new(Role::NamedBox);
    let baseline = Points::ZERO;
    cell.push(chord_name::draw(symbol, chord_name::SET_BACK, baseline));
    let bottom = baseline + look::ROW_GAP + chord_box::height(grip);
    cell.push(chord_box::draw(grip, style, chord_name::SET_BACK, bottom));
    let frets = grip.voicing().written(style.instrument.string_count());
    cell.described(format!("{symbol:#}: {frets}, from the lowest string to the highest."))
}
