//! Ties between note heads, half ones at the ends of a line included.
//!
//! Rules (Gould, "Behind Bars", 2011, ties; Read, "Music Notation", 1969; from memory): where a staff has several
//! voices, ties bow to the side of their voice's stems; a single voice bows away from its stems, and in its chords the
//! upper half bows upwards, the lower half downwards. A tie on the outer side of a chord reaches from head to head
//! above or below them; one that has heads beyond it stands between them.

use std::collections::BTreeMap;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;

use super::heads::{Chord, Way};
use super::voices::BarNotes;
use super::{SPACE, Steps, y_of};
use crate::bar::BarContent;
use crate::bar::notation::StaffVoice;
use crate::draw::ties::bow;
use crate::frame::{Group, Role};
use crate::points::Points;
use crate::system::{Line, PlacedBar};

/// The length of an open tie.
pub(crate) const OPEN: f64 = 2.0;
/// How far a tie from the line before reaches to the left of its head.
const FROM_BEFORE: f64 = 3.2;
/// From a head to a tie beside it.
const BESIDE: f64 = 0.15;

/// Draws open ties between two edges, of notes that are tied to another place of the tune.
pub(crate) fn open(
    places: impl Iterator<Item = Steps>,
    way: Way,
    (left, right): (Points, Points),
    into: &mut Group,
) {
    let up = if way == Way::Up { 1.0 } else { -1.0 };
    for place in places {
        let y = y_of(place) - SPACE * (0.3 * up);
        into.push(Group::of(Role::Tie, bow(left + SPACE * 0.3, right - SPACE * 0.2, y, up)));
    }
}

/// A head that a tie may begin at: its middle, half its width, and whether the tie lies beyond all other heads.
#[derive(Clone, Copy)]
struct End {
    x: Points,
    half: Points,
    outer: bool,
    up: f64,
    y: Points,
}

impl End {
    fn of(note: (usize, Steps), chord: &Chord, up: f64) -> Self {
        let (x, half) = chord.head(note.0);
        let outermost = if up > 0.0 { chord.highest() } else { chord.lowest() };
        Self { x, half, outer: note.1 == outermost, up, y: y_of(note.1) }
    }

    /// Where a tie begins, or ends for −1, on the side of this head.
    fn beside(self, side: f64, outer: bool) -> Points {
        let away = if outer { self.half * 0.5 } else { self.half + SPACE * BESIDE };
        self.x + away * side
    }
}

/// Draws the ties of all voices.
pub(crate) fn ties(score: &Score, contents: &[BarContent], line: &Line, into: &mut Group) {
    let mut before: BTreeMap<usize, End> = BTreeMap::new();
    for placed in &line.bars {
        let content = &contents[placed.bar];
        let Some(notation) = &content.notation else { continue };
        let notes = BarNotes { score, bar: &score.tune.bars()[placed.bar], notation };
        let moments = notes.moments(|at| x_of(content, placed, at));
        for voice in &notation.voices {
            let chords = notes.chords(voice, &moments);
            for (element, chord) in voice.voice.elements.iter().zip(&chords) {
                let Some(chord) = chord else { continue };
                let at = element.at + notes.bar.start;
                for (note, steps) in chord.notes.iter().copied() {
                    let end = End::of((note, steps), chord, bow_of(notes, voice, chord, steps));
                    if score.notes[note].at < at {
                        draw(before.get(&note).copied(), end, into);
                    }
                    before.insert(note, end);
                }
            }
        }
    }
    go_on(score, contents, line, &before, into);
}

fn x_of(content: &BarContent, placed: &PlacedBar, at: Ticks) -> Points {
    let column = content.columns.iter().position(|c| c.at == at);
    column.map_or(placed.left, |column| placed.columns[column])
}

/// Whether the tie of a note bows upwards: 1, or downwards: −1.
fn bow_of(notes: BarNotes<'_>, voice: &StaffVoice, chord: &Chord, steps: Steps) -> f64 {
    let up = if !notes.is_alone(voice.rank) {
        chord.way == Way::Up
    } else if chord.notes.len() == 1 {
        chord.way == Way::Down
    } else {
        let below = chord.notes.iter().filter(|(_, other)| *other < steps).count();
        below * 2 >= chord.notes.len()
    };
    if up { 1.0 } else { -1.0 }
}

fn draw(from: Option<End>, to: End, into: &mut Group) {
    let outer = to.outer && from.is_none_or(|from| from.outer);
    let left = match from {
        Some(from) => from.beside(1.0, outer),
        None => to.x - SPACE * FROM_BEFORE,
    };
    into.push(tie(left, to.beside(-1.0, outer), to, outer));
}

fn tie(left: Points, right: Points, at: End, outer: bool) -> Group {
    let away = if outer { 0.62 } else { 0.2 };
    Group::of(Role::Tie, bow(left, right, at.y - SPACE * (away * at.up), at.up))
}

/// The ties into the next line.
fn go_on(
    score: &Score,
    contents: &[BarContent],
    line: &Line,
    before: &BTreeMap<usize, End>,
    into: &mut Group,
) {
    let Some(next) = line.bars.last().and_then(|b| contents.get(b.bar + 1)) else { return };
    let end = score.tune.bars()[next.bar].start;
    let written = next.notation.iter().flat_map(|n| &n.voices).filter_map(|voice| voice.notes.first());
    for note in written.flatten().filter(|note| score.notes[**note].at < end) {
        if let Some(from) = before.get(note) {
            into.push(tie(from.beside(1.0, from.outer), line.width - SPACE * 0.1, *from, from.outer));
        }
    }
}
