//! What the five-line staff shows of a bar: the melody as upper voice, all other parts as lower voice, and which
//! notes need an accidental.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::spelling::{SpelledPitch, Step};
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::ringing::Ringing;
use crate::rhythm::{Kind, Span, Voice, voice};

/// A voice of the staff in one bar.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct StaffVoice {
    /// The rhythm; its times count from the bar line.
    pub voice: Voice,
    /// The notes of each element: indices into the score's notes, none for a rest.
    pub notes: Vec<Vec<usize>>,
    /// The notes of each element that ring on under a newer stroke of the same voice, whose written length therefore
    /// says less than how long they sound.
    pub ringing_on: Vec<Vec<usize>>,
}

impl StaffVoice {
    /// Whether nothing of it sounds.
    pub fn is_silent(&self) -> bool {
        self.notes.iter().all(Vec::is_empty)
    }
}

/// A bar of the staff.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Notation {
    /// The melody.
    pub upper: StaffVoice,
    /// Bass and inner voices.
    pub lower: StaffVoice,
    /// The notes that carry an accidental, and which: −1 a flat, 0 a natural, 1 a sharp.
    pub accidentals: BTreeMap<usize, i8>,
}

/// What the staff shows of a bar whose full metre begins `offset` earlier.
pub(crate) fn notation(score: &Score, ringing: Ringing<'_>, bar: &Bar, offset: Ticks) -> Notation {
    let melody = |note: &ScoreNote| note.part == Part::Melody;
    let upper = staff_voice(ringing, bar, offset, melody);
    let lower = staff_voice(ringing, bar, offset, |note| !melody(note));
    let accidentals = accidentals(score, bar, [&upper, &lower]);
    Notation { upper, lower, accidentals }
}

fn staff_voice(
    ringing: Ringing<'_>,
    bar: &Bar,
    offset: Ticks,
    mine: impl Fn(&ScoreNote) -> bool,
) -> StaffVoice {
    let notes: Vec<(usize, &ScoreNote)> =
        ringing.during(bar.start, bar.end()).filter(|(_, n)| mine(n)).collect();
    let strokes: BTreeSet<Ticks> = notes.iter().map(|(_, n)| n.at).filter(|at| *at >= bar.start).collect();
    // What was struck last, together, is written; what rings on from before is left to the tablature's lines.
    let group = |at: Ticks| -> Vec<(usize, &ScoreNote)> {
        let last = strokes.range(..=at).next_back();
        let begins = |n: &ScoreNote| last.map_or(n.at < bar.start, |last| n.at == *last);
        notes.iter().copied().filter(|(_, n)| begins(n) && n.end() > at).collect()
    };
    let mut bounds: BTreeSet<Ticks> = strokes.iter().copied().chain([bar.start, bar.end()]).collect();
    let ends: Vec<Ticks> =
        bounds.iter().filter_map(|at| group(*at).iter().map(|(_, n)| n.end()).max()).collect();
    let silent_from = |end: &Ticks| *end < bar.end() && group(*end).is_empty();
    bounds.extend(ends.into_iter().filter(silent_from));
    let times: Vec<Ticks> = bounds.into_iter().collect();
    let spans: Vec<Span> = times
        .windows(2)
        .map(|pair| Span {
            at: pair[0] - bar.start,
            length: pair[1] - pair[0],
            kind: match (strokes.contains(&pair[0]), group(pair[0]).is_empty()) {
                (true, _) => Kind::Struck,
                (false, false) => Kind::Tied,
                (false, true) => Kind::Rest,
            },
        })
        .collect();
    let voice = voice(&spans, offset, bar.metre);
    let sounding = voice.elements.iter().map(|e| match e.kind {
        Kind::Rest => Vec::new(),
        Kind::Struck | Kind::Tied => group(e.at + bar.start).into_iter().map(|(index, _)| index).collect(),
    });
    let sounding: Vec<Vec<usize>> = sounding.collect();
    let ends_after = |note: usize, end: Ticks| notes.iter().any(|(index, n)| *index == note && n.end() > end);
    let struck_next = ringing.at(bar.end()).any(|n| mine(n) && n.at == bar.end());
    let goes_on = |note: &usize, end: Ticks| {
        if end < bar.end() { !group(end).iter().any(|(n, _)| n == note) } else { struck_next }
    };
    let ends = voice.elements.iter().skip(1).map(|e| e.at + bar.start).chain([bar.end()]);
    let ringing_on = sounding.iter().zip(ends).map(|(notes, end)| {
        let outlasts = |note: &&usize| ends_after(**note, end) && goes_on(note, end);
        notes.iter().filter(outlasts).copied().collect()
    });
    StaffVoice { ringing_on: ringing_on.collect(), notes: sounding, voice }
}

/// Accidentals hold for their line until the bar line; the key's own are not repeated.
fn accidentals(score: &Score, bar: &Bar, voices: [&StaffVoice; 2]) -> BTreeMap<usize, i8> {
    let struck = voices.into_iter().flat_map(|v| v.voice.elements.iter().zip(&v.notes));
    let indices = struck.filter(|(e, _)| e.kind == Kind::Struck).flat_map(|(_, notes)| notes.iter().copied());
    let in_order: BTreeSet<usize> = indices.collect();
    let mut in_force: BTreeMap<(Step, i8), i8> = BTreeMap::new();
    let mut shown = BTreeMap::new();
    for index in in_order {
        let SpelledPitch { spelling, octave } = score.notes[index].written;
        let line =
            in_force.entry((spelling.step, octave)).or_insert_with(|| bar.key.accidental_of(spelling.step));
        if *line != spelling.alter {
            *line = spelling.alter;
            shown.insert(index, spelling.alter);
        }
    }
    shown
}
