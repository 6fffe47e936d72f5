//! Second pass over a bar: how much room the ink of every column needs.

use std::ops::Range;

use handspan_core::arrangement::Score;
use handspan_core::grip::Grip;

use super::collect::{BarContent, Column};
use super::digits;
use crate::draw::notation::voices::BarNotes;
use crate::draw::{chord_box, chord_name, column, rhythm, taps};
use crate::options::Layout;
use crate::points::Points;
use crate::rhythm::Kind;

/// How far the ink of a column reaches from its middle.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Extent {
    /// To the left.
    pub left: Points,
    /// To the right.
    pub right: Points,
    /// To the right for what stands above the tablature: chord symbol and box; none where there is neither.
    pub above: Option<Points>,
}

impl Extent {
    fn make_room_for_figures(&mut self, score: &Score, notes: Range<usize>, has_digits: bool) {
        let brush = column::brushed(&score.notes[notes.clone()]).map_or(Points::ZERO, |_| column::BRUSH);
        for note in notes {
            let digit = if has_digits { digits::printed(score, note) } else { None };
            let (left, right) = column::note_extent(&score.notes[note], digit);
            self.left = self.left.max(left + brush);
            self.right = self.right.max(right);
        }
    }
}

/// The extents of a bar's columns.
pub(crate) fn measure(
    score: &Score,
    content: &BarContent,
    boxes: &[Option<Grip>],
    layout: Layout,
) -> Vec<Extent> {
    let columns = content.columns.iter();
    columns
        .map(|column| {
            let mut extent = extent(score, content, column, boxes);
            if layout.has_tablature() {
                extent.make_room_for_figures(score, column.notes.clone(), !layout.has_staff());
                if taps::at(score, column.at).is_some() {
                    let (left, right) = taps::extent(None);
                    extent.left = extent.left.max(left);
                    extent.right = extent.right.max(right);
                }
            }
            extent
        })
        .collect()
}

fn extent(score: &Score, content: &BarContent, at: &Column, boxes: &[Option<Grip>]) -> Extent {
    let mut extent = Extent::default();
    if let Some(width) = column::right_fingers_width(&score.notes[at.notes.clone()]) {
        extent.left = extent.left.max(width / 2.0);
        extent.right = extent.right.max(width / 2.0);
    }
    if let Some(element) = at.element.map(|e| &content.voice.elements[e]) {
        let (left, right) = match element.kind {
            Kind::Rest => rhythm::rest_extent(element.value),
            Kind::Struck | Kind::Tied => rhythm::stem_extent(element.value),
        };
        extent.left = extent.left.max(left);
        extent.right = extent.right.max(right);
    }
    if let Some(notation) = &content.notation {
        let bar = &score.tune.bars()[content.bar];
        let (left, right) = BarNotes { score, bar, notation }.extent(at.at);
        extent.left = extent.left.max(left);
        extent.right = extent.right.max(right);
    }
    extent.above = at.chord.map(|chord| {
        let name = chord_name::width(&score.tune.chords()[chord].symbol);
        let drawn = boxes[chord].map(|grip| chord_box::width(&grip, &score.instrument));
        name.max(drawn.unwrap_or(Points::ZERO)) - chord_name::SET_BACK
    });
    extent
}
