//! Lines for notes that ring on while something else is struck.

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::time::Ticks;

use super::column::{half_width, string_y};
use super::system::Source;
use crate::bar::BarContent;
use crate::frame::{Group, Ink, Path, Role};
use crate::look;
use crate::points::{Point, Points};
use crate::system::Line;

/// How thick the line is; the string's own line runs through its middle.
const WIDTH: Points = Points::new(2.8);
/// From a figure to its line.
const AFTER_FIGURE: Points = Points::new(2.0);
/// From the line to the column where the note has ended.
const BEFORE_END: Points = Points::new(9.0);
/// The shortest line that is drawn.
const SHORTEST: Points = Points::new(5.0);

/// Draws the held lines of a system.
pub(crate) fn held(source: Source<'_>, line: &Line, into: &mut Group) {
    let Source { score, contents, ringing, .. } = source;
    let bars = score.tune.bars();
    let (Some(first), Some(last)) = (line.bars.first(), line.bars.last()) else {
        return;
    };
    let (from, to) = (bars[first.bar].start, bars[last.bar].end());
    for (index, note) in ringing.during(from, to) {
        if !outlasts_its_column(score, contents, note) {
            continue;
        }
        let begin = match line.x_of(contents, bars, note.at) {
            Some(x) => x + half_width(note) + AFTER_FIGURE,
            None => first.left + AFTER_FIGURE,
        };
        let bar_line = line.bars.iter().find(|placed| bars[placed.bar].end() == note.end());
        let end = match (bar_line, line.x_of(contents, bars, note.end())) {
            (Some(placed), _) => placed.right - AFTER_FIGURE,
            (None, Some(x)) => x - BEFORE_END,
            (None, None) => last.right - AFTER_FIGURE,
        };
        if end - begin >= SHORTEST {
            let y = string_y(note.place.string);
            let path = Path::line(Point::new(begin, y), Point::new(end, y), WIDTH, Ink::GREY);
            into.push(Group::of(Role::Held(index), path));
        }
    }
}

/// Whether another column stands within the note's length.
fn outlasts_its_column(score: &Score, contents: &[BarContent], note: &ScoreNote) -> bool {
    let bar = score.tune.bar_index(note.at);
    let later = |at: Ticks| note.at < at && at < note.end();
    let here = contents[bar].columns.iter().any(|c| later(c.at));
    here || note.end() > score.tune.bars()[bar].end()
}

/// The height that belongs to the tablature of so many strings.
pub(crate) fn tablature_height(strings: usize) -> Points {
    look::STRING_GAP * strings.saturating_sub(1) as f64
}
