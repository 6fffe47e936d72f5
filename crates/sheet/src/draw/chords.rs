//! Chord boxes, and chord symbols above them on one line.

use super::chord_box::{self, Style, Window};
use super::chord_name;
use super::skyline::Skyline;
use super::system::Source;
use crate::frame::Group;
use crate::look;
use crate::points::Points;
use crate::system::Line;

/// Draws the boxes and symbols of a system above all that is there.
pub(crate) fn chords(source: Source<'_>, line: &Line, skyline: &mut Skyline, into: &mut Group) {
    let columns = line.bars.iter().flat_map(|placed| {
        let columns = source.contents[placed.bar].columns.iter();
        columns.zip(&placed.columns).filter_map(|(column, x)| Some((column.chord?, *x)))
    });
    let chords: Vec<(usize, Points)> = columns.collect();
    let style = Style { instrument: &source.score.instrument, left_handed: source.options.left_handed_boxes };
    let grips = || chords.iter().filter_map(|(chord, x)| Some((source.boxes[*chord].as_ref()?, *x)));
    let rows = grips().map(|(grip, _)| Window::around(&[grip]).rows()).max().unwrap_or(0);
    let boxes = grips().map(|(grip, x)| {
        let window = Window::around(&[grip]).lengthened(rows);
        chord_box::draw_on(grip, &window, style, x, Points::ZERO)
    });
    skyline.put_row(boxes.collect(), look::ROW_GAP, into);
    let symbol = |(chord, x): &(usize, Points)| {
        chord_name::draw(&source.score.tune.chords()[*chord].symbol, *x, Points::ZERO)
    };
    skyline.put_row(chords.iter().map(symbol).collect(), look::ROW_GAP, into);
}
