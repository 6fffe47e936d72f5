//! Chord boxes, and chord symbols above them on one line.

use super::chord_box::{self, Style};
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
    let boxes = chords.iter().filter_map(|(chord, x)| {
        let grip = source.boxes[*chord].as_ref()?;
        Some(chord_box::draw(grip, style, *x, Points::ZERO))
    });
    skyline.put_row(boxes.collect(), look::ROW_GAP, into);
    let symbol = |(chord, x): &(usize, Points)| {
        chord_name::draw(&source.score.tune.chords()[*chord].symbol, *x, Points::ZERO)
    };
    skyline.put_row(chords.iter().map(symbol).collect(), look::ROW_GAP, into);
}
