//! What the left hand does, above the system: brackets over barres of the index finger, C with the fret as a Roman
//! numeral and a line as long as the finger stays, ½C where it lies across four strings or fewer; Roman numerals alone where the hand takes
//! another position (the classical convention; common practice, no source); where harmonics are touched.

use std::collections::BTreeSet;

use handspan_core::arrangement::ScoreNote;
use handspan_core::neck::{Fret, Touch};
use handspan_core::time::Ticks;

use super::chord_box::roman;
use super::system::Source;
use super::{column, pen};
use crate::bar::barres::Barre;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::look::{self, SPACE};
use crate::points::{Point, Points};
use crate::system::Line;

/// How far a bracket begins to the left of its column's middle.
const SET_BACK: Points = Points::new(4.0);
/// From the line's end to the column where the finger has left, or to the bar line.
const BEFORE_END: Points = Points::new(8.5);
const BEFORE_BAR_LINE: Points = Points::new(3.0);
/// From the numeral to the line.
const AFTER_NUMERAL: Points = Points::new(2.5);
/// The shortest line that is drawn, and the hook at its end.
const SHORTEST: Points = Points::new(5.0);
const HOOK: Points = Points::new(3.4);
/// The white before a bracket that begins with its system.
const EDGE: Points = Points::new(3.0);

/// The brackets and numerals of a system from left to right, on the baseline 0.
pub(crate) fn signs(source: Source<'_>, line: &Line) -> Vec<Group> {
    let bars = source.score.tune.bars();
    let (Some(first), Some(last)) = (line.bars.first(), line.bars.last()) else { return Vec::new() };
    let (begin, end) = (bars[first.bar].start, bars[last.bar].end());
    let here = source.barres.iter().filter(|barre| barre.from < end && begin < barre.to);
    let brackets = here.map(|barre| (barre.from, bracket_of(source, line, barre)));
    let moved = source.positions.iter().filter(|(at, _)| {
        let barred = |barre: &Barre| barre.from <= *at && *at < barre.to;
        begin <= *at && *at < end && !source.barres.iter().any(barred)
    });
    let numerals = moved.filter_map(|(at, fret)| Some((*at, numeral(source, line, *at, *fret)?)));
    let notes = &source.score.notes;
    let notes = &notes[notes.partition_point(|n| n.at < begin)..notes.partition_point(|n| n.at < end)];
    let touched = harmonics(notes).filter_map(|(at, words)| Some((at, harmonic(source, line, at, &words)?)));
    let touched: Vec<_> = touched.filter(|_| source.options.layout.has_staff()).collect();
    let mut signs: Vec<(Ticks, Group)> = brackets.chain(numerals).chain(touched).collect();
    signs.sort_by_key(|(at, _)| *at);
    signs.into_iter().map(|(_, sign)| sign).collect()
}

fn numeral(source: Source<'_>, line: &Line, at: Ticks, fret: Fret) -> Option<Group> {
    let x = line.x_of(source.contents, source.score.tune.bars(), at)? - SET_BACK;
    let numeral = roman(fret.number());
    let x = x.min(line.bars.last()?.right - pen::width(Face::Regular, look::BARRE, &numeral));
    let run = pen::text_from(Face::Regular, look::BARRE, &numeral, Point::new(x, Points::ZERO));
    Some(Group::of(Role::Position, run))
}

/// Where harmonics are touched, told once for as long as the fret stays the same.
fn harmonics(notes: &[ScoreNote]) -> impl Iterator<Item = (Ticks, String)> {
    let strokes = notes.chunk_by(|a, b| a.at == b.at);
    let words = strokes.map(|stroke| {
        let touched = stroke.iter().filter(|note| note.touch.is_harmonic() && !note.tied_in).map(|note| {
            match note.touch {
                Touch::Artificial => column::touched(note.place.fret),
                Touch::Natural | Touch::Plain => i16::from(note.place.fret.number()),
            }
        });
        let frets: BTreeSet<i16> = touched.collect();
        let frets: Vec<String> = frets.iter().map(ToString::to_string).collect();
        (stroke[0].at, (!frets.is_empty()).then(|| format!("Harm. {}", frets.join(", "))))
    });
    let mut before = None;
    words.filter_map(move |(at, words)| {
        let is_new = words != before;
        before.clone_from(&words);
        Some((at, words.filter(|_| is_new)?))
    })
}

fn harmonic(source: Source<'_>, line: &Line, at: Ticks, words: &str) -> Option<Group> {
    let x = line.x_of(source.contents, source.score.tune.bars(), at)? - SET_BACK;
    let x = x.min(line.bars.last()?.right - pen::width(Face::Italic, look::BARRE, words));
    let run = pen::text_from(Face::Italic, look::BARRE, words, Point::new(x, Points::ZERO));
    Some(Group::of(Role::Harmonic, run))
}

fn bracket_of(source: Source<'_>, line: &Line, barre: &Barre) -> Group {
    let bars = source.score.tune.bars();
    let x_of = |at| line.x_of(source.contents, bars, at);
    let (first, last) = (&line.bars[0], &line.bars[line.bars.len() - 1]);
    let left = x_of(barre.from).map_or(first.left + EDGE, |x| x - SET_BACK);
    let bar_line = line.bars.iter().find(|placed| bars[placed.bar].end() == barre.to);
    let right = match (bar_line, x_of(barre.to)) {
        (Some(placed), _) => placed.right - BEFORE_BAR_LINE,
        (None, Some(x)) => x - BEFORE_END,
        (None, None) => last.right - BEFORE_BAR_LINE,
    };
    // A short barre at the end of a line keeps its numeral within the margin.
    let numeral = format!("{}{}", if barre.is_full() { "C" } else { "½C" }, roman(barre.fret.number()));
    let left = left.min(last.right - pen::width(Face::Regular, look::BARRE, &numeral));
    bracket(&numeral, left, right, barre.to <= bars[last.bar].end())
}

/// A bracket on the baseline 0, closed by a hook where the finger leaves.
fn bracket(numeral: &str, left: Points, right: Points, closed: bool) -> Group {
    let label = pen::text_from(Face::Regular, look::BARRE, numeral, Point::new(left, Points::ZERO));
    let from = left + label.advance() + AFTER_NUMERAL;
    let mut group = Group::of(Role::Barre, label);
    if right - from >= SHORTEST {
        let y = -(look::BARRE * 0.33);
        let thin = SPACE * 0.13;
        group.push(Path::line(Point::new(from, y), Point::new(right, y), thin, Ink::BLACK));
        if closed {
            let corner = Point::new(right, y - thin / 2.0);
            group.push(Path::line(corner, Point::new(right, y + HOOK), thin, Ink::BLACK));
        }
    }
    group
}
