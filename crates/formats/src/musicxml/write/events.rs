//! What stands in one bar: for every voice its notes, rests and gaps, cut at the bar lines and into note values.

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::value::{Piece, Tuplet, Value, pieces};
use super::voices::Chord;
use super::{beams, taps};

/// The events of one bar; voices that are silent in it are left out, except for the melody's.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct BarEvents {
    pub(super) voices: Vec<VoiceEvents>,
}

/// The events of one voice in one bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct VoiceEvents {
    /// The index of the voice in the whole score.
    pub(super) voice: usize,
    pub(super) events: Vec<Event>,
}

/// Something that takes up time in a voice.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Event {
    /// Since the beginning of the tune.
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    pub(super) value: Option<Value>,
    pub(super) bracket: Option<Bracket>,
    /// The standard's words for its beams, the first beam first.
    pub(super) beams: Vec<&'static str>,
    pub(super) content: Content,
}

impl Event {
    pub(super) const fn is_chord(&self) -> bool {
        matches!(self.content, Content::Chord { .. })
    }
}

/// Where a tuplet's bracket begins and ends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Bracket {
    Start,
    Stop,
}

/// What an event is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Content {
    /// A chord of the voice, by its index there; whether this is its first and its last piece.
    Chord {
        chord: usize,
        first: bool,
        last: bool,
    },
    Rest,
    /// A rest as long as the bar.
    BarRest,
}

/// The events of the bar with this index.
pub(super) fn of_bar(score: &Score, voices: &[Vec<Chord>], index: usize) -> BarEvents {
    let bar = &score.tune.bars()[index];
    let counted_from = counted_from(bar);
    let voices = voices.iter().enumerate().filter_map(|(voice, chords)| {
        let mut events = chord_events(chords, bar, counted_from);
        if voice == 0 {
            events = with_rests(events, bar, counted_from);
        }
        add_brackets(&mut events);
        beams::add(&mut events, counted_from, bar.metre);
        (!events.is_empty()).then_some(VoiceEvents { voice, events })
    });
    BarEvents { voices: voices.collect() }
}

/// Where beat 1 of a bar lies: a pickup is counted from where its full bar would have begun.
pub(super) fn counted_from(bar: &Bar) -> Ticks {
    let missing = bar.metre.bar() - bar.length;
    if bar.start == Ticks::ZERO && missing > Ticks::ZERO { bar.start - missing } else { bar.start }
}

fn chord_events(chords: &[Chord], bar: &Bar, counted_from: Ticks) -> Vec<Event> {
    let from = chords.partition_point(|chord| chord.end() <= bar.start);
    let mut events = Vec::new();
    for (index, chord) in chords.iter().enumerate().skip(from) {
        if chord.at >= bar.end() {
            break;
        }
        let (start, end) = (chord.at.max(bar.start), chord.end().min(bar.end()));
        let written = pieces(start - counted_from, end - start, bar.metre.beat());
        push(&mut events, start, &written, |piece_start, piece_end| Content::Chord {
            chord: index,
            first: piece_start == chord.at,
            last: piece_end == chord.end(),
        });
    }
    events
}

fn push(events: &mut Vec<Event>, start: Ticks, pieces: &[Piece], content: impl Fn(Ticks, Ticks) -> Content) {
    let mut at = start;
    for piece in pieces {
        events.push(Event {
            at,
            length: piece.length,
            value: piece.value,
            bracket: None,
            beams: Vec::new(),
            content: content(at, at + piece.length),
        });
        at += piece.length;
    }
}

/// The melody's events with rests between them, so that the bar is full.
fn with_rests(events: Vec<Event>, bar: &Bar, counted_from: Ticks) -> Vec<Event> {
    if events.is_empty() {
        return vec![Event {
            at: bar.start,
            length: bar.length,
            value: None,
            bracket: None,
            beams: Vec::new(),
            content: Content::BarRest,
        }];
    }
    let mut filled = Vec::new();
    let mut now = bar.start;
    let rest = |filled: &mut Vec<Event>, from: Ticks, to: Ticks| {
        if from < to {
            let written = pieces(from - counted_from, to - from, bar.metre.beat());
            push(filled, from, &written, |_, _| Content::Rest);
        }
    };
    for event in events {
        rest(&mut filled, now, event.at);
        now = event.at + event.length;
        filled.push(event);
    }
    rest(&mut filled, now, bar.end());
    filled
}

/// Puts brackets around runs of one tuplet that fill an eighth, or several.
fn add_brackets(events: &mut [Event]) {
    let tuplet_of = |event: &Event| event.value.and_then(|value| value.tuplet);
    let mut from = 0;
    while from < events.len() {
        let to = tuplet_of(&events[from]).map_or(from, |tuplet| bracket_end(&events[from..], tuplet) + from);
        if to > from {
            events[from].bracket = Some(Bracket::Start);
            events[to].bracket = Some(Bracket::Stop);
        }
        from = to + 1;
    }
}

/// How many events further a bracket that begins with the first one ends; 0 where none can be drawn.
fn bracket_end(events: &[Event], tuplet: Tuplet) -> usize {
    let eighth = Ticks::PER_QUARTER / 2;
    let mut filled = Ticks::ZERO;
    for (index, event) in events.iter().enumerate() {
        let same = event.value.and_then(|value| value.tuplet) == Some(tuplet);
        if !same || event.at != events[0].at + filled {
            return 0;
        }
        filled += event.length;
        if filled.count() % eighth == 0 {
            return index;
        }
    }
    0
}

/// How many divisions of a quarter note make every time in the score whole.
pub(super) fn divisions(score: &Score, bars: &[BarEvents]) -> i64 {
    let events = bars.iter().flat_map(|bar| &bar.voices).flat_map(|voice| &voice.events);
    let tune = &score.tune;
    let times = events
        .flat_map(|event| [event.at, event.length])
        .chain(tune.chords().iter().map(|chord| chord.at))
        .chain(tune.tempi().iter().map(|tempo| tempo.at))
        .chain(tune.bars().iter().map(|bar| bar.length))
        .chain(
            tune.bars().iter().flat_map(|bar| taps::of_bar(score, bar)).flat_map(|tap| [tap.at, tap.length]),
        );
    Ticks::PER_QUARTER / times.map(Ticks::count).fold(Ticks::PER_QUARTER, common_divisor)
}

fn common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { common_divisor(b, a % b) }
}
