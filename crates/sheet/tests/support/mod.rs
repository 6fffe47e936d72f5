//! Scores written by hand for the tests of the sheet: invented tunes, set down bar by bar.

use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Key, Kind, Mode};
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::{Bar, ChordAt, Ending, Jump, MelodyNote, TempoAt, Tune, TuneParts};

/// A note: string number, fret, finger (0 for none), right-hand letter.
type Stroke = (u8, u8, u8, char);

/// What is struck at once: a length of the melody in sixteenths, the notes from high to low (the first is the melody),
/// and how long the others ring, in sixteenths.
pub(crate) struct Beat(pub(crate) i64, pub(crate) &'static [Stroke], pub(crate) i64);

/// A tune being set down.
pub(crate) struct Writer {
    parts: TuneParts,
    notes: Vec<ScoreNote>,
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
    ChordSymbol::Chord(Chord {
        degrees,
        bass,
        ..Chord::plain(root, kind)
    })
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
        let place = Place {
            string: StringIndex::from_number(string).unwrap(),
            fret: Fret::new(fret),
        };
        let pitch = self.instrument.sounding(place).unwrap();
        let written = SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), i32::from(self.key.fifths())));
        self.notes.push(ScoreNote {
            at: self.at,
            length,
            written,
            place,
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
        }
    }
}

fn ending(pass: u8) -> Option<Ending> {
    Some(Ending { passes: vec![pass] })
}

/// Twenty bars in four: repeats, endings, a coda, ties, triplets of no kind, dotted figures.
pub(crate) fn evening() -> Score {
    let eight = |w: Writer| {
        w.bar(
            &[(0, "Cmaj7"), (8, "A7b9")],
            &[
                Beat(6, &[(1, 0, 0, 'a'), (2, 0, 0, 'm'), (3, 0, 0, 'i'), (4, 2, 2, 'p'), (5, 3, 3, 'p')], 8),
                Beat(2, &[(1, 3, 4, 'm')], 0),
                Beat(4, &[(2, 2, 2, 'm'), (3, 3, 4, 'i'), (5, 0, 0, 'p')], 8),
                Beat(2, &[(2, 2, 2, 'm')], 0),
                Beat(2, &[(2, 3, 3, 'a')], 0),
            ],
        )
        .bar(
            &[(0, "Dm9"), (8, "G13")],
            &[
                Beat(8, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 2, 3, 'i'), (4, 0, 0, 'p')], 8),
                Beat(8, &[(1, 0, 0, 'a'), (3, 4, 4, 'm'), (4, 3, 2, 'i'), (6, 3, 3, 'p')], 8),
            ],
        )
        .bar(
            &[(0, "Em7"), (8, "Ebdim7")],
            &[
                Beat(2, &[(2, 3, 4, 'a'), (3, 0, 0, 'm'), (4, 0, 0, 'i'), (6, 0, 0, 'p')], 8),
                Beat(2, &[(2, 0, 0, 'm')], 0),
                Beat(2, &[(2, 1, 1, 'i')], 0),
                Beat(2, &[(2, 3, 4, 'm')], 0),
                Beat(8, &[(2, 1, 1, 'a'), (3, 2, 2, 'm'), (4, 1, 1, 'i')], 8),
            ],
        )
    };
    let four = Metre::COMMON;
    let w = Writer::new("An Evening at the Weir", four, 0).tempo(112);
    let w = eight(w);
    let w = w
        .bar(&[(0, "Dm7b5/Ab"), (8, "G7#9")], &[
            Beat(3, &[(1, 1, 1, 'a'), (2, 1, 1, 'm'), (3, 1, 1, 'i'), (6, 4, 4, 'p')], 8),
            Beat(1, &[(1, 0, 0, 'm')], 0),
            Beat(4, &[(2, 3, 4, 'a')], 0),
            Beat(6, &[(2, 0, 0, 'a'), (3, 3, 2, 'm'), (4, 3, 3, 'i'), (6, 3, 1, 'p')], 8),
            Beat(2, &[], 0),
        ])
        .mark(|b| {
            b.ending = ending(1);
            b.ending_stops = true;
            b.repeat_end = Some(2);
        })
        .bar(&[(0, "C6/9")], &[
            Beat(16, &[(1, 3, 4, 'a'), (2, 3, 3, 'm'), (3, 2, 1, 'i'), (4, 2, 1, 'p'), (5, 3, 2, 'p')], 16),
        ])
        .tied(8)
        .mark(|b| {
            b.ending = ending(2);
            b.ending_stops = true;
        })
        .bar(&[(8, "F#m7b5")], &[Beat(8, &[], 0), Beat(4, &[(1, 5, 4, 'a'), (3, 2, 2, 'm'), (4, 2, 3, 'i'), (6, 2, 1, 'p')], 8), Beat(4, &[(1, 3, 2, 'm')], 0)])
        .mark(|b| {
            b.section = Some("Bridge".to_owned());
            b.segno = true;
        });
    let w = eight(w);
    let w = w
        .bar(&[(0, "Bbmaj7#11"), (8, "Am7")], &[
            Beat(4, &[(1, 8, 4, 'a'), (2, 10, 4, 'm'), (3, 7, 1, 'i'), (4, 8, 2, 'p')], 8),
            Beat(4, &[(1, 7, 1, 'm')], 0),
            Beat(4, &[(1, 5, 1, 'a'), (2, 5, 1, 'm'), (3, 5, 1, 'i'), (4, 5, 1, 'p'), (6, 5, 1, 'p')], 8),
            Beat(2, &[(1, 8, 4, 'm')], 0),
            Beat(2, &[(1, 5, 1, 'i')], 0),
        ])
        .mark(|b| b.to_coda = true);
    let w = eight(w);
    let w = w
        .bar(&[(0, "N.C.")], &[Beat(8, &[(1, 0, 0, 'a')], 0), Beat(8, &[], 0)])
        .mark(|b| b.jump = Some(Jump::DalSegno))
        .bar(&[(0, "F"), (8, "Fm6")], &[
            Beat(8, &[(1, 1, 1, 'a'), (2, 1, 1, 'm'), (3, 2, 2, 'i'), (4, 3, 3, 'p')], 8),
            Beat(8, &[(1, 1, 1, 'a'), (2, 3, 4, 'm'), (3, 1, 1, 'i'), (4, 3, 3, 'p')], 8),
        ])
        .mark(|b| {
            b.section = Some("Coda".to_owned());
            b.coda = true;
        });
    eight(w)
        .bar(&[(0, "C")], &[Beat(16, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 0, 0, 'i'), (4, 2, 2, 'p'), (5, 3, 3, 'p')], 16)])
        .score()
}

/// Eight bars of six eighths with a pickup.
pub(crate) fn ferry() -> Score {
    let six = Metre::try_new(6, 8).unwrap();
    let verse = |w: Writer| {
        w.bar(&[(0, "D"), (6, "A7/C#")], &[
            Beat(2, &[(1, 2, 2, 'a'), (3, 2, 1, 'i'), (4, 0, 0, 'p')], 6),
            Beat(2, &[(1, 0, 0, 'm')], 0),
            Beat(2, &[(2, 3, 3, 'i')], 0),
            Beat(4, &[(1, 0, 0, 'a'), (3, 0, 0, 'i'), (5, 4, 4, 'p')], 6),
            Beat(2, &[(2, 3, 3, 'm')], 0),
        ])
        .bar(&[(0, "Bm"), (6, "G6")], &[
            Beat(3, &[(2, 3, 4, 'a'), (3, 4, 3, 'i'), (5, 2, 1, 'p')], 6),
            Beat(1, &[(2, 2, 1, 'm')], 0),
            Beat(2, &[(2, 0, 0, 'i')], 0),
            Beat(6, &[(2, 0, 0, 'a'), (3, 0, 0, 'm'), (4, 2, 2, 'i'), (6, 3, 3, 'p')], 6),
        ])
    };
    let mut w = Writer::new("The Ferry Turns", six, 2).tempo(84).bar(&[], &[Beat(2, &[(2, 3, 3, 'm')], 0)]);
    w = w.mark(|b| b.number = "0".to_owned());
    for _ in 0..4 {
        w = verse(w);
    }
    w.mark(|b| b.fine = true).score()
}

/// Six bars of triplets, short values, dotted rests and an instrument of seven strings in another tuning, with a capo.
pub(crate) fn crossing() -> Score {
    let mut w = Writer::new("Crossing the Lock", Metre::COMMON, -3).tempo(72);
    let tuning = Tuning::from_low_to_high("seven strings", [35, 40, 45, 50, 55, 59, 64].map(Pitch::new));
    w.instrument = Instrument::try_new(tuning, 19, Instrument::CLASSICAL_SCALE, 2).unwrap();
    for _ in 0..3 {
        w = w
            .bar(&[(0, "Bbmaj7#11"), (4, "Am7"), (8, "Dm7b5/Ab"), (12, "G7#9")], &[
                Beat(1, &[(1, 12, 4, 'a'), (2, 10, 1, 'm'), (7, 10, 2, 'p')], 4),
                Beat(1, &[(1, 10, 1, 'm')], 0),
                Beat(1, &[(2, 13, 4, 'i')], 0),
                Beat(1, &[(2, 11, 2, 'm')], 0),
                Beat(3, &[(1, 8, 1, 'a'), (3, 9, 2, 'i'), (7, 8, 1, 'p')], 4),
                Beat(1, &[(1, 10, 3, 'm')], 0),
                Beat(1, &[], 0),
                Beat(3, &[(1, 12, 4, 'a'), (4, 10, 2, 'p')], 4),
                Beat(4, &[(1, 10, 1, 'a'), (2, 10, 1, 'm'), (3, 10, 1, 'i'), (4, 10, 1, 'p'), (7, 11, 2, 'p')], 4),
            ])
            .triplets();
    }
    w.score()
}

/// Forty-eight bars over several pages.
pub(crate) fn long_walk() -> Score {
    let mut w = Writer::new("The Long Walk Round", Metre::try_new(3, 4).unwrap(), 1).tempo(138);
    for bar in 0..48 {
        w = w.bar(&[(0, ["G6", "Em7", "Am7", "D7"][bar % 4])], &[
            Beat(4, &[(1, 3, 4, 'a'), (3, 0, 0, 'm'), (4, 0, 0, 'i'), (6, 3, 3, 'p')], 12),
            Beat(2, &[(2, 3, 4, 'm')], 0),
            Beat(2, &[(2, 1, 1, 'i')], 0),
            Beat(4, &[(2, 0, 0, 'm')], 0),
        ]);
        if bar % 16 == 0 {
            w = w.mark(|b| b.section = Some(format!("Part {}", bar / 16 + 1)));
        }
    }
    w.score()
}

/// One bar under a title.
pub(crate) fn titled(title: &str) -> Score {
    Writer::new(title, Metre::COMMON, 0)
        .bar(&[(0, "C")], &[Beat(16, &[(2, 1, 1, 'i'), (5, 3, 3, 'p')], 16)])
        .score()
}
