//! A teacher's remarks under the system of their bar.

use super::pen;
use super::system::Source;
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};
use crate::system::Line;

/// Draws the remarks to the bars of a system below all that is there, so wide as the page allows.
pub(crate) fn remarks(source: Source<'_>, line: &Line, into: &mut Group) {
    let width = source.width;
    let mut y = into.bounds().map_or(Points::ZERO, |ink| ink.bottom) + look::REMARK_DROP;
    for placed in &line.bars {
        let Some(text) = source.options.remarks.get(&placed.bar) else { continue };
        let words = format!("Bar {}: {text}", source.score.tune.bars()[placed.bar].number);
        let mut group = Group::new(Role::Remark(placed.bar));
        y += look::REMARK * pen::LEADING;
        let lines = pen::paragraph(&words, Face::Italic, look::REMARK, Point::new(Points::ZERO, y), width);
        y += look::REMARK * (pen::LEADING * lines.len().saturating_sub(1) as f64);
        for line in lines {
            group.push(line);
        }
        into.push(group);
    }
}
