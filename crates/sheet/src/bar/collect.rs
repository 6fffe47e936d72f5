//! First pass over a bar: what stands in it, column by column.

use std::collections::BTreeSet;
use std::ops::Range;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::notation::{Notation, notation};
use super::ringing::Ringing;
use crate::options::Layout;
use crate::rhythm::{Kind, Span, Voice, voice};

/// A moment of a bar and all that stands there, one above the other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Column {
    /// When, from the beginning of the tune.
    pub at: Ticks,
    /// The notes that begin: indices into the score's notes.
    pub notes: Range<usize>,
    /// The written value: an index into the voice's elements.
    pub element: Option<usize>,
    /// The chord symbol: an index into the tune's chords.
    pub chord: Option<usize>,
}

/// What stands in a bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BarContent {
    /// The bar's index in the tune.
    pub bar: usize,
    /// The rhythm; its times count from the bar line.
    pub voice: Voice,
    /// What the staff shows, where there is one.
    pub notation: Option<Notation>,
    /// The columns in order of time.
    pub columns: Vec<Column>,
    /// Whether the metre is printed: in the first bar printed and where it changes.
    pub shows_metre: bool,
    /// Whether another key begins here.
    pub changes_key: bool,
}

/// What stands in every bar; `first` is the bar that is printed first.
pub fn collect(score: &Score, layout: Layout, first: usize) -> Vec<BarContent> {
    let bars = score.tune.bars();
    let ringing = Ringing::new(score);
    (0..bars.len())
        .map(|index| {
            let bar = &bars[index];
            let offset =
                if index == 0 { (bar.metre.bar() - bar.length).max(Ticks::ZERO) } else { Ticks::ZERO };
            let voice = voice(&spans(score, ringing, bar), offset, bar.metre);
            let notation = layout.has_staff().then(|| notation(score, ringing, bar, offset));
            BarContent {
                bar: index,
                columns: columns(score, bar, &voice, notation.as_ref()),
                notation,
                voice,
                changes_key: index > first && bars[index - 1].key != bar.key,
                shows_metre: index == first || index > 0 && bars[index - 1].metre != bar.metre,
            }
        })
        .collect()
}

/// The notes that begin in a stretch of time.
fn beginning_in(notes: &[ScoreNote], from: Ticks, to: Ticks) -> Range<usize> {
    notes.partition_point(|n| n.at < from)..notes.partition_point(|n| n.at < to)
}

/// The rhythm of the melody as the main one, with every stroke of the other parts between: a span begins where
/// anything is struck and where a melody note ends.
fn spans(score: &Score, ringing: Ringing<'_>, bar: &Bar) -> Vec<Span> {
    let range = beginning_in(&score.notes, bar.start, bar.end());
    let struck = score.notes[range].iter().filter(|n| !n.tied_in).map(|n| n.at);
    let strokes: BTreeSet<Ticks> = struck.chain(tapped(score, bar)).collect();
    let sounding = ringing.during(bar.start, bar.end()).map(|(_, note)| note);
    let melody: Vec<&ScoreNote> = sounding.filter(|note| note.part == Part::Melody).collect();
    let ends = melody.iter().map(|note| note.end()).filter(|end| *end < bar.end());
    let bounds: BTreeSet<Ticks> = strokes.iter().copied().chain(ends).chain([bar.start, bar.end()]).collect();
    let times: Vec<Ticks> = bounds.into_iter().collect();
    let sings = |at: Ticks| melody.iter().any(|note| note.at <= at && at < note.end());
    times
        .windows(2)
        .map(|pair| Span {
            at: pair[0] - bar.start,
            length: pair[1] - pair[0],
            kind: match (strokes.contains(&pair[0]), sings(pair[0])) {
                (true, _) => Kind::Struck,
                (false, true) => Kind::Tied,
                (false, false) => Kind::Rest,
            },
        })
        .collect()
}

/// When taps fall into a bar.
fn tapped(score: &Score, bar: &Bar) -> impl Iterator<Item = Ticks> {
    score.taps.iter().map(|tap| tap.at).filter(|at| bar.start <= *at && *at < bar.end())
}

fn columns(score: &Score, bar: &Bar, voice: &Voice, notation: Option<&Notation>) -> Vec<Column> {
    let voices = notation.into_iter().flat_map(|n| &n.voices);
    let on_staff = voices.flat_map(|v| v.drawn().map(|(_, element)| element.at + bar.start));
    let elements = voice.elements.iter().map(|e| e.at + bar.start);
    let notes = beginning_in(&score.notes, bar.start, bar.end());
    let struck = score.notes[notes].iter().map(|n| n.at);
    let chords = score.tune.chords();
    let chords_before = |at: Ticks| chords.partition_point(|c| c.at < at);
    let named = chords[chords_before(bar.start)..chords_before(bar.end())].iter().map(|c| c.at);
    let times: BTreeSet<Ticks> =
        elements.chain(struck).chain(tapped(score, bar)).chain(named).chain(on_staff).collect();
    // Of several symbols at one time the last one holds.
    let chord_at =
        |at: Ticks| chords_before(at + Ticks::new(1)).checked_sub(1).filter(|last| chords[*last].at == at);
    times
        .into_iter()
        .map(|at| Column {
            at,
            notes: beginning_in(&score.notes, at, at + Ticks::new(1)),
            element: voice.elements.iter().position(|e| e.at + bar.start == at),
            chord: chord_at(at),
        })
        .collect()
}
