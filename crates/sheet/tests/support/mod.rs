//! Scores written by hand for the tests of the sheet: invented tunes, set down bar by bar.

#![expect(clippy::unwrap_used, reason = "what is set down by hand is known to be sound")]

pub(crate) mod harmonics;
pub(crate) mod tunes;

use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote, ScoreTap, TapBy};
use handspan_core::demand::Part;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Key, Kind, Mode};
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Touch};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::{Bar, ChordAt, MelodyNote, TempoAt, Tune, TuneParts};

pub(crate) use harmonics::{knocks, ripples};
pub(crate) use tunes::{
    aside, beams, crossing, crowded, evening, ferry, held, jig, ladder, long_walk, meeting, rules, thirds,
    titled, turning, unwritable, voices,
};

/// A note: string number, fret, finger (0 for none), right-hand letter.
type Stroke = (u8, u8, u8, char);

/// What is struck at once: a length of the melody in sixteenths, the notes from high to low (the first is the melody),
/// and how long the others ring, in sixteenths.
pub(crate) struct Beat(pub(crate) i64, pub(crate) &'static [Stroke], pub(crate) i64);

/// A tune being set down.
pub(crate) struct Writer {
    parts: TuneParts,
    notes: Vec<ScoreNote>,
    taps: Vec<ScoreTap>,
    instrument: Instrument,
    at: Ticks,
    key: Key,
    metre: Metre,
}

/// The few symbols that the tunes below use.
fn chord(text: &str) -> ChordSymbol {
    let Some((root, rest)) = Spelling::read(text).filter(|_| text != "N.C.") else {
        return ChordSymbol::NoChord;
    };
    let (kind, bass) = match rest.split_once('/') {
        Some((kind, bass)) if bass != "9" => (kind, Spelling::read(bass).map(|(bass, _)| bass)),
        _ => (rest, None),
    };
    let with = |kind, number, alter, how| (kind, vec![Degree { number, alter, kind: how }]);
    let (kind, degrees) = match kind {
        "" => (Kind::Major, Vec::new()),
        "m" => (Kind::Minor, Vec::new()),
        "maj7" => (Kind::MajorSeventh, Vec::new()),
        "maj7#11" => with(Kind::MajorSeventh, 11, 1, DegreeKind::Add),
        "m7" => (Kind::MinorSeventh, Vec::new()),
        "m9" => (Kind::MinorNinth, Vec::new()),
        "m6" => (Kind::MinorSixth, Vec::new()),
        "m7b5" => (Kind::HalfDiminished, Vec::new()),
        "dim7" => (Kind::DiminishedSeventh, Vec::new()),
        "6" => (Kind::MajorSixth, Vec::new()),
        "6/9" => with(Kind::MajorSixth, 9, 0, DegreeKind::Add),
        "7" => (Kind::Dominant, Vec::new()),
        "7b9" => with(Kind::Dominant, 9, -1, DegreeKind::Add),
        "7#9" => with(Kind::Dominant, 9, 1, DegreeKind::Add),
        "13" => (Kind::Dominant13th, Vec::new()),
        other => panic!("no symbol for {other}"),
    };
    ChordSymbol::Chord(Chord { degrees, bass, ..Chord::plain(root, kind) })
}

fn sixteenths(count: i64) -> Ticks {
    Ticks::from_quarter_parts(count, 4).unwrap()
}

impl Writer {
    pub(crate) fn new(title: &str, metre: Metre, fifths: i8) -> Self {
        let parts = TuneParts {
            title: title.to_owned(),
            composer: "Vera Lindholt".to_owned(),
            ..TuneParts::default()
        };
        Self {
            parts,
            notes: Vec::new(),
            taps: Vec::new(),
            instrument: Instrument::classical(),
            at: Ticks::ZERO,
            key: Key::try_new(fifths, Mode::Major).unwrap(),
            metre,
        }
    }

    pub(crate) fn tempo(mut self, quarters: u16) -> Self {
        let tempo = Tempo::try_new(quarters).unwrap();
        self.parts.tempi.push(TempoAt { at: self.at, tempo });
        self
    }

    /// A bar: its chords (sixteenths after the line, symbol) and its strokes; a stroke without notes is a rest.
    pub(crate) fn bar(mut self, chords: &[(i64, &str)], beats: &[Beat]) -> Self {
        let length = beats.iter().map(|b| sixteenths(b.0)).sum();
        let number = (self.parts.bars.len() + 1).to_string();
        self.parts.bars.push(Bar::plain(number, length, self.metre, self.key));
        for (after, symbol) in chords {
            let symbol = chord(symbol);
            self.parts.chords.push(ChordAt { at: self.at + sixteenths(*after), symbol });
        }
        for Beat(melody, strokes, ring) in beats {
            for (place, stroke) in strokes.iter().enumerate() {
                self.stroke(*stroke, place == 0, sixteenths(if place == 0 { *melody } else { *ring }));
            }
            self.at += sixteenths(*melody);
        }
        self
    }

    fn stroke(&mut self, (string, fret, finger, letter): Stroke, melody: bool, length: Ticks) {
        let place = Place { string: StringIndex::from_number(string).unwrap(), fret: Fret::new(fret) };
        let pitch = self.instrument.sounding(place).unwrap();
        let written =
            SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), i32::from(self.key.fifths())));
        self.notes.push(ScoreNote {
            at: self.at,
            length,
            written,
            place,
            touch: Touch::Plain,
            finger: Finger::from_number(finger),
            pluck: RightFinger::from_letter(letter),
            part: if melody {
                Part::Melody
            } else if string >= 5 {
                Part::Bass
            } else {
                Part::Inner
            },
            tied_in: false,
            tied_out: false,
        });
        if melody {
            self.parts.melody.push(MelodyNote {
                at: self.at,
                length,
                written,
                tied_in: false,
                tied_out: false,
            });
        }
    }

    /// Lengthens the last melody note: a tie into what comes next, which has to be given as a rest.
    pub(crate) fn tied(mut self, more: i64) -> Self {
        let melody = self.parts.melody.last_mut().unwrap();
        melody.length += sixteenths(more);
        let at = melody.at;
        let note = self.notes.iter_mut().rfind(|n| n.part == Part::Melody && n.at == at).unwrap();
        note.length += sixteenths(more);
        self
    }

    /// Lets the last note on a string ring for so many sixteenths.
    pub(crate) fn ringing(mut self, string: u8, length: i64) -> Self {
        let index = StringIndex::from_number(string).unwrap();
        let note = self.notes.iter_mut().rfind(|n| n.place.string == index).unwrap();
        note.length = sixteenths(length);
        self
    }

    /// Taps so many sixteenths into the last bar, each an eighth.
    pub(crate) fn taps(mut self, places: &[i64], by: TapBy) -> Self {
        let start = self.at - self.parts.bars.last().unwrap().length;
        let tap = |place: &i64| ScoreTap { at: start + sixteenths(*place), length: sixteenths(2), by };
        self.taps.extend(places.iter().map(tap));
        self.taps.sort_by_key(|tap| tap.at);
        self
    }

    /// Makes the last note on a string a harmonic; the fret is where it is stopped, or touched for a natural one.
    pub(crate) fn harmonic(mut self, string: u8, touch: Touch) -> Self {
        let index = StringIndex::from_number(string).unwrap();
        let note = self.notes.iter_mut().rfind(|n| n.place.string == index).unwrap();
        let pitch = self.instrument.sounding_by(note.place, touch).unwrap();
        note.touch = touch;
        note.written =
            SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), i32::from(self.key.fifths())));
        let (at, written) = (note.at, note.written);
        if note.part == Part::Melody {
            self.parts.melody.iter_mut().rfind(|n| n.at == at).unwrap().written = written;
        }
        self
    }

    /// A bar of two triplets of eighths, one of quarters.
    pub(crate) fn triplets(mut self) -> Self {
        let number = (self.parts.bars.len() + 1).to_string();
        let bar = Bar::plain(number, self.metre.bar(), self.metre, self.key);
        self.parts.bars.push(bar);
        let thirds = |count| Ticks::from_quarter_parts(count, 3).unwrap();
        for length in [1, 1, 1, 2, 1, 2, 2, 2].map(thirds) {
            self.stroke((2, 8, 1, 'm'), true, length);
            self.at += length;
        }
        self
    }

    /// Begins another key.
    pub(crate) fn key(mut self, fifths: i8) -> Self {
        self.key = Key::try_new(fifths, Mode::Major).unwrap();
        self
    }

    /// Marks the last bar.
    pub(crate) fn mark(mut self, mark: impl FnOnce(&mut Bar)) -> Self {
        mark(self.parts.bars.last_mut().unwrap());
        self
    }

    pub(crate) fn score(mut self) -> Score {
        self.notes.sort_by_key(|n| (n.at, n.place.string));
        Score {
            tune: Arc::new(Tune::try_new(self.parts).unwrap()),
            instrument: self.instrument,
            notes: self.notes,
            taps: self.taps,
        }
    }
}
