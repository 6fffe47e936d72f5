//! A teacher's remarks under the system of their bar.

use super::pen;
use super::system::Source;
use crate::frame::{Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};
use crate::system::Line;

/// From line to line, of the size of the type.
const LEADING: f64 = 1.25;

/// Draws the remarks to the bars of a system below all that is there, so wide as the page allows.
pub(crate) fn remarks(source: Source<'_>, line: &Line, into: &mut Group) {
    let width = source.width;
    let mut y = into.bounds().map_or(Points::ZERO, |ink| ink.bottom) + look::REMARK_DROP;
    for placed in &line.bars {
        let Some(text) = source.options.remarks.get(&placed.bar) else { continue };
        let words = format!("Bar {}: {text}", source.score.tune.bars()[placed.bar].number);
        let mut group = Group::new(Role::Remark(placed.bar));
        for line in pen::wrapped(&words, Face::Italic, look::REMARK, width) {
            y += look::REMARK * LEADING;
            // A single word wider than the page is set smaller rather than cut off.
            let size = look::REMARK * (width / pen::width(Face::Italic, look::REMARK, &line)).min(1.0);
            group.push(pen::text_from(Face::Italic, size, &line, Point::new(Points::ZERO, y)));
        }
        into.push(group);
    }
}
