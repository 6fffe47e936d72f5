//! A teacher's remarks under the system of their bar. What would take too much of the page there goes on in blocks of
//! its own, which pages break like systems.

use super::pen;
use super::system::Source;
use crate::frame::{GlyphRun, Group, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};
use crate::system::Line;

/// The part of a page's height that remarks take under their system at most, and in a block of their own.
const UNDER_SYSTEM: f64 = 0.35;
const ALONE: f64 = 0.6;

/// A line of a remark, with the index of its bar.
type RemarkLine = (usize, GlyphRun);

/// Draws the remarks to the bars of a system below all that is there, so wide as the page allows, and so many lines as
/// may stand there.
pub(crate) fn remarks(source: Source<'_>, line: &Line, into: &mut Group) {
    let lines = lines(source, line);
    let mut y = into.bounds().map_or(Points::ZERO, |ink| ink.bottom) + look::REMARK_DROP;
    for remark in lines[..lines.len().min(most(source, UNDER_SYSTEM))].chunk_by(|a, b| a.0 == b.0) {
        into.push(block(remark, &mut y));
    }
}

/// What of the remarks does not stand under their system, in blocks.
pub(crate) fn left_over(source: Source<'_>, line: &Line) -> Vec<Group> {
    let lines = lines(source, line);
    let rest = lines.get(most(source, UNDER_SYSTEM)..).unwrap_or_default();
    let remarks = rest.chunk_by(|a, b| a.0 == b.0);
    let parts = remarks.flat_map(|remark| remark.chunks(most(source, ALONE)));
    parts.map(|part| block(part, &mut { Points::ZERO })).collect()
}

/// How many lines a part of the page's height holds.
fn most(source: Source<'_>, part: f64) -> usize {
    let lines = source.height * part / (look::REMARK * pen::LEADING);
    (lines as usize).max(1)
}

fn lines(source: Source<'_>, line: &Line) -> Vec<RemarkLine> {
    let remarks = line.bars.iter().filter_map(|placed| {
        let text = source.options.remarks.get(&placed.bar)?;
        let words = format!("Bar {}: {text}", source.score.tune.bars()[placed.bar].number);
        let lines = pen::paragraph(&words, Face::Italic, look::REMARK, Point::ORIGIN, source.width);
        Some(lines.into_iter().map(|run| (placed.bar, run)))
    });
    remarks.flatten().collect()
}

/// Lines of one remark below a height, which moves down by them.
fn block(lines: &[RemarkLine], y: &mut Points) -> Group {
    let mut group = Group::new(Role::Remark(lines.first().map_or(0, |(bar, _)| *bar)));
    for (_, run) in lines {
        *y += look::REMARK * pen::LEADING;
        group.push(GlyphRun { at: Point::new(run.at.x, *y), ..run.clone() });
    }
    group
}
