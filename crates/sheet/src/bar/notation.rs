//! What the five-line staff shows of a bar: three voices at most, the rests that are drawn, and which notes need an
//! accidental.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::spelling::{SpelledPitch, Step};
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::ringing::Ringing;
use super::voices::{self, Rank};
use crate::rhythm::{Element, Kind, Span, Voice, voice};

/// A voice of the staff in one bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StaffVoice {
    /// Its place among the voices.
    pub rank: Rank,
    /// The rhythm; its times count from the bar line.
    pub voice: Voice,
    /// The notes of each element: indices into the score's notes, none for a rest.
    pub notes: Vec<Vec<usize>>,
    /// The rests that are not drawn, as numbers of their elements.
    pub clutter: BTreeSet<usize>,
}

impl StaffVoice {
    /// Whether nothing of it sounds.
    pub fn is_silent(&self) -> bool {
        self.notes.iter().all(Vec::is_empty)
    }

    /// The elements that are drawn, with their numbers.
    pub fn drawn(&self) -> impl Iterator<Item = (usize, &Element)> {
        self.voice.elements.iter().enumerate().filter(|(index, _)| !self.clutter.contains(index))
    }
}

/// A bar of the staff.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Notation {
    /// Upper, middle and lower voice.
    pub voices: [StaffVoice; 3],
    /// The notes that carry an accidental, and which: −1 a flat, 0 a natural, 1 a sharp.
    pub accidentals: BTreeMap<usize, i8>,
}

/// What the staff shows of a bar whose full metre begins `offset` earlier.
pub(crate) fn notation(score: &Score, ringing: Ringing<'_>, bar: &Bar, offset: Ticks) -> Notation {
    let sounding: Vec<(usize, &ScoreNote)> = ringing.during(bar.start, bar.end()).collect();
    let ranks = voices::ranks(&sounding, bar);
    let voice_of = |rank| staff_voice(ringing, bar, offset, rank, &|index| ranks.get(&index) == Some(&rank));
    let mut voices = Rank::ALL.map(voice_of);
    let clutter = [0, 1, 2].map(|number| clutter(&voices, number, bar));
    for (voice, clutter) in voices.iter_mut().zip(clutter) {
        voice.clutter = clutter;
    }
    let accidentals = accidentals(score, bar, &voices);
    Notation { voices, accidentals }
}

/// The rests of a voice that would only be in the way: all of a voice that is silent beside one that sounds, all of
/// the middle voice, and those of the lower voice while the middle one sounds throughout (common practice, no source:
/// a rest is written where a reader would otherwise ask for a beat). A rest that fills up a tuplet is never clutter:
/// without it the figure would stand over a single note.
fn clutter(voices: &[StaffVoice; 3], number: usize, bar: &Bar) -> BTreeSet<usize> {
    let voice = &voices[number];
    let elements = &voice.voice.elements;
    let rests = (0..elements.len()).filter(|index| elements[*index].kind == Kind::Rest);
    let others_sound = voices.iter().any(|other| other.rank != voice.rank && !other.is_silent());
    let alone = voice.is_silent() && (others_sound || voice.rank != Rank::Upper);
    let middle = &voices[1];
    let covered = |index: &usize| {
        let end = elements.get(index + 1).map_or(bar.length, |next| next.at);
        let from = elements[*index].at;
        let during = middle.voice.elements.iter().enumerate().filter(|(number, element)| {
            let until = middle.voice.elements.get(number + 1).map_or(bar.length, |next| next.at);
            element.at < end && from < until
        });
        during.into_iter().all(|(_, element)| element.kind != Kind::Rest)
    };
    let fills_tuplet = |index: &usize| {
        let tuplet = elements[*index].tuplet;
        tuplet.is_some() && elements.iter().any(|e| e.tuplet == tuplet && e.kind != Kind::Rest)
    };
    let is_clutter = |index: &usize| match voice.rank {
        _ if alone => true,
        _ if fills_tuplet(index) => false,
        Rank::Upper => false,
        Rank::Middle => true,
        Rank::Lower => !middle.is_silent() && covered(index),
    };
    rests.filter(is_clutter).collect()
}

fn staff_voice(
    ringing: Ringing<'_>,
    bar: &Bar,
    offset: Ticks,
    rank: Rank,
    is_mine: &dyn Fn(usize) -> bool,
) -> StaffVoice {
    let notes: Vec<(usize, &ScoreNote)> =
        ringing.during(bar.start, bar.end()).filter(|(index, _)| is_mine(*index)).collect();
    // A chord is cut wherever a note begins or ends, and what sounds on is tied.
    let group = |at: Ticks| notes.iter().copied().filter(move |(_, n)| n.at <= at && at < n.end());
    let ends = notes.iter().flat_map(|(_, n)| [n.at.max(bar.start), n.end().min(bar.end())]);
    let bounds: BTreeSet<Ticks> = ends.chain([bar.start, bar.end()]).collect();
    let times: Vec<Ticks> = bounds.into_iter().collect();
    let spans: Vec<Span> = times
        .windows(2)
        .map(|pair| Span {
            at: pair[0] - bar.start,
            length: pair[1] - pair[0],
            kind: kind(group(pair[0]), pair[0]),
        })
        .collect();
    let voice = voice(&spans, offset, bar.metre);
    let sounding = voice.elements.iter().map(|e| group(e.at + bar.start).map(|(index, _)| index).collect());
    StaffVoice { rank, notes: sounding.collect(), voice, clutter: BTreeSet::new() }
}

/// What a span is that begins with these notes: struck as soon as one of them is.
fn kind<'a>(notes: impl Iterator<Item = (usize, &'a ScoreNote)>, at: Ticks) -> Kind {
    notes.fold(Kind::Rest, |kind, (_, note)| match (note.at == at, kind) {
        (true, _) | (_, Kind::Struck) => Kind::Struck,
        _ => Kind::Tied,
    })
}

/// Accidentals hold for their line until the bar line; the key's own are not repeated.
fn accidentals(score: &Score, bar: &Bar, voices: &[StaffVoice; 3]) -> BTreeMap<usize, i8> {
    let struck = voices.iter().flat_map(|v| v.voice.elements.iter().zip(&v.notes));
    let indices = struck.flat_map(|(element, notes)| {
        let at = element.at + bar.start;
        notes.iter().copied().filter(move |index| score.notes[*index].at == at)
    });
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
