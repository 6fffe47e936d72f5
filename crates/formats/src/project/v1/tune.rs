//! The tune as version 1 writes it.

use handspan_core::harmony::{self, ChordSymbol, Key, Kind};
use handspan_core::time::{Tempo, Ticks};
use handspan_core::tune::{self as model, TuneParts};
use serde::{Deserialize, Serialize};

use super::line::LineNote;
use super::written_out::WrittenOut;
use super::{is_default, text};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tune {
    title: String,
    composer: String,
    bars: Vec<Bar>,
    melody: Vec<Note>,
    chords: Vec<Chord>,
    tempi: Vec<TempoMark>,
    /// A written bass line and hooks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    lines: Vec<LineNote>,
    /// What stands below the melody of music that is written out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    written_out: Option<WrittenOut>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Bar {
    number: String,
    length: i64,
    metre: String,
    /// Sharps of the key signature; flats are negative.
    fifths: i8,
    mode: Mode,
    #[serde(default, skip_serializing_if = "is_default")]
    section: Option<String>,
    #[serde(default, skip_serializing_if = "is_default")]
    repeat_start: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    repeat_end: Option<u8>,
    #[serde(default, skip_serializing_if = "is_default")]
    ending: Option<Vec<u8>>,
    #[serde(default, skip_serializing_if = "is_default")]
    ending_stops: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    segno: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    coda: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    to_coda: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    fine: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    jump: Option<Jump>,
}

#[derive(Clone, Copy, Serialize, Deserialize)]
enum Mode {
    Major,
    Minor,
}

#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
enum Jump {
    DaCapo,
    DalSegno,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Note {
    at: i64,
    length: i64,
    pitch: String,
    #[serde(default, skip_serializing_if = "is_default")]
    tied_in: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    tied_out: bool,
}

/// A chord symbol; without a root it is N.C.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Chord {
    at: i64,
    #[serde(default, skip_serializing_if = "is_default")]
    root: Option<String>,
    /// The word of the MusicXML standard.
    #[serde(default, skip_serializing_if = "is_default")]
    kind: String,
    #[serde(default, skip_serializing_if = "is_default")]
    degrees: Vec<Degree>,
    #[serde(default, skip_serializing_if = "is_default")]
    bass: Option<String>,
    #[serde(default, skip_serializing_if = "is_default")]
    printed: Option<String>,
}

#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
enum Degree {
    Add(u8, i8),
    Alter(u8, i8),
    Subtract(u8, i8),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TempoMark {
    at: i64,
    quarters_a_minute: u16,
}

impl From<&model::Tune> for Tune {
    fn from(tune: &model::Tune) -> Self {
        Self {
            title: tune.title().to_owned(),
            composer: tune.composer().to_owned(),
            bars: tune.bars().iter().map(Bar::from).collect(),
            melody: tune.melody().iter().map(Note::from).collect(),
            chords: tune.chords().iter().map(Chord::from).collect(),
            tempi: tune.tempi().iter().map(TempoMark::from).collect(),
            lines: tune.lines().iter().map(LineNote::from).collect(),
            written_out: tune.written_out().map(WrittenOut::from),
        }
    }
}

impl TryFrom<Tune> for model::Tune {
    type Error = String;

    fn try_from(tune: Tune) -> Result<Self, String> {
        let parts = TuneParts {
            title: tune.title,
            composer: tune.composer,
            bars: tune.bars.into_iter().map(Bar::read).collect::<Result<_, _>>()?,
            melody: tune.melody.iter().map(Note::read).collect::<Result<_, _>>()?,
            chords: tune.chords.into_iter().map(Chord::read).collect::<Result<_, _>>()?,
            tempi: tune.tempi.iter().map(TempoMark::read).collect::<Result<_, _>>()?,
            lines: tune.lines.iter().map(LineNote::read).collect::<Result<_, _>>()?,
            written_out: tune.written_out.map(WrittenOut::read).transpose()?,
        };
        Self::try_new(parts).map_err(|fault| fault.to_string())
    }
}

impl From<&model::Bar> for Bar {
    fn from(bar: &model::Bar) -> Self {
        Self {
            number: bar.number.clone(),
            length: bar.length.count(),
            metre: bar.metre.to_string(),
            fifths: bar.key.fifths(),
            mode: match bar.key.mode() {
                harmony::Mode::Major => Mode::Major,
                harmony::Mode::Minor => Mode::Minor,
            },
            section: bar.section.clone(),
            repeat_start: bar.repeat_start,
            repeat_end: bar.repeat_end,
            ending: bar.ending.as_ref().map(|ending| ending.passes.clone()),
            ending_stops: bar.ending_stops,
            segno: bar.segno,
            coda: bar.coda,
            to_coda: bar.to_coda,
            fine: bar.fine,
            jump: bar.jump.map(|jump| match jump {
                model::Jump::DaCapo => Jump::DaCapo,
                model::Jump::DalSegno => Jump::DalSegno,
            }),
        }
    }
}

impl Bar {
    fn read(self) -> Result<model::Bar, String> {
        let number = self.number;
        let metre =
            text::metre(&self.metre).ok_or_else(|| format!("“{}” is no metre (bar {number})", self.metre))?;
        let mode = match self.mode {
            Mode::Major => harmony::Mode::Major,
            Mode::Minor => harmony::Mode::Minor,
        };
        let key = Key::try_new(self.fifths, mode).ok_or_else(|| {
            format!("{} is no number of sharps or flats of a key (bar {number})", self.fifths)
        })?;
        let length = time(self.length)?;
        Ok(model::Bar {
            section: self.section,
            repeat_start: self.repeat_start,
            repeat_end: self.repeat_end,
            ending: self.ending.map(|passes| model::Ending { passes }),
            ending_stops: self.ending_stops,
            segno: self.segno,
            coda: self.coda,
            to_coda: self.to_coda,
            fine: self.fine,
            jump: self.jump.map(|jump| match jump {
                Jump::DaCapo => model::Jump::DaCapo,
                Jump::DalSegno => model::Jump::DalSegno,
            }),
            ..model::Bar::plain(number, length, metre, key)
        })
    }
}

impl From<&model::MelodyNote> for Note {
    fn from(note: &model::MelodyNote) -> Self {
        Self {
            at: note.at.count(),
            length: note.length.count(),
            pitch: note.written.to_string(),
            tied_in: note.tied_in,
            tied_out: note.tied_out,
        }
    }
}

impl Note {
    fn read(&self) -> Result<model::MelodyNote, String> {
        Ok(model::MelodyNote {
            at: time(self.at)?,
            length: time(self.length)?,
            written: text::spelled_pitch(&self.pitch)
                .ok_or_else(|| format!("“{}” is no note (melody at {} ticks)", self.pitch, self.at))?,
            tied_in: self.tied_in,
            tied_out: self.tied_out,
        })
    }
}

impl From<&model::ChordAt> for Chord {
    fn from(chord: &model::ChordAt) -> Self {
        let at = chord.at.count();
        let Some(chord) = chord.symbol.chord() else {
            return Self {
                at,
                root: None,
                kind: String::new(),
                degrees: Vec::new(),
                bass: None,
                printed: None,
            };
        };
        Self {
            at,
            root: Some(chord.root.to_string()),
            kind: chord.kind.musicxml().to_owned(),
            degrees: chord.degrees.iter().map(Degree::from).collect(),
            bass: chord.bass.map(|bass| bass.to_string()),
            printed: chord.printed.clone(),
        }
    }
}

impl Chord {
    fn read(self) -> Result<model::ChordAt, String> {
        let ticks = self.at;
        let at = time(ticks)?;
        let place = |what: &str, text: &str| format!("“{text}” is no {what} (chord at {ticks} ticks)");
        let Some(root) = self.root else {
            return Ok(model::ChordAt { at, symbol: ChordSymbol::NoChord });
        };
        let note = |text: String| text::spelling(&text).ok_or_else(|| place("note", &text));
        let symbol = ChordSymbol::Chord(harmony::Chord {
            root: note(root)?,
            kind: Kind::from_musicxml(&self.kind).ok_or_else(|| place("kind of chord", &self.kind))?,
            degrees: self.degrees.iter().map(|d| d.read(ticks)).collect::<Result<_, _>>()?,
            bass: self.bass.map(note).transpose()?,
            printed: self.printed,
        });
        Ok(model::ChordAt { at, symbol })
    }
}

impl From<&harmony::Degree> for Degree {
    fn from(degree: &harmony::Degree) -> Self {
        let make = match degree.kind {
            harmony::DegreeKind::Add => Self::Add,
            harmony::DegreeKind::Alter => Self::Alter,
            harmony::DegreeKind::Subtract => Self::Subtract,
        };
        make(degree.number, degree.alter)
    }
}

impl Degree {
    fn read(self, at: i64) -> Result<harmony::Degree, String> {
        let (kind, number, alter) = match self {
            Self::Add(number, alter) => (harmony::DegreeKind::Add, number, alter),
            Self::Alter(number, alter) => (harmony::DegreeKind::Alter, number, alter),
            Self::Subtract(number, alter) => (harmony::DegreeKind::Subtract, number, alter),
        };
        if !(1..=13).contains(&number) || !(-2..=2).contains(&alter) {
            return Err(format!("degree {number} altered by {alter} is in no chord (chord at {at} ticks)"));
        }
        Ok(harmony::Degree { number, alter, kind })
    }
}

impl From<&model::TempoAt> for TempoMark {
    fn from(tempo: &model::TempoAt) -> Self {
        Self { at: tempo.at.count(), quarters_a_minute: tempo.tempo.quarters_a_minute() }
    }
}

impl TempoMark {
    fn read(&self) -> Result<model::TempoAt, String> {
        let tempo = Tempo::try_new(self.quarters_a_minute);
        Ok(model::TempoAt {
            at: time(self.at)?,
            tempo: tempo
                .ok_or_else(|| format!("{} quarter notes a minute are no tempo", self.quarters_a_minute))?,
        })
    }
}

/// A time or a length in ticks, within what any tune can have.
pub(super) fn time(ticks: i64) -> Result<Ticks, String> {
    /// A million quarter notes.
    const LONGEST: i64 = 1_000_000 * Ticks::PER_QUARTER;
    if (0..=LONGEST).contains(&ticks) {
        Ok(Ticks::new(ticks))
    } else {
        Err(format!("{ticks} ticks are no time in a tune"))
    }
}
