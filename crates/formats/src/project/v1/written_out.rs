//! What version 1 writes of music in which every note is given.

use handspan_core::hand::{Finger, RightFinger};
use handspan_core::neck::{Fret, Node, StringIndex};
use handspan_core::tune as model;
use serde::{Deserialize, Serialize};

use super::tune::time;
use super::{is_default, text};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenOut {
    notes: Vec<Note>,
    #[serde(default, skip_serializing_if = "is_default")]
    marks: Vec<Marks>,
    #[serde(default, skip_serializing_if = "is_default")]
    taps: Vec<Tap>,
}

#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Tap {
    at: i64,
    length: i64,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Note {
    at: i64,
    length: i64,
    pitch: String,
    #[serde(default, skip_serializing_if = "is_default")]
    bass: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    tied_in: bool,
    #[serde(default, skip_serializing_if = "is_default")]
    tied_out: bool,
}

/// Marks as they are printed: a string number, a digit 0 to 4 or T, a letter p i m a c.
#[derive(PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Marks {
    at: i64,
    midi: u8,
    #[serde(default, skip_serializing_if = "is_default")]
    string: Option<u8>,
    #[serde(default, skip_serializing_if = "is_default")]
    left: Option<char>,
    #[serde(default, skip_serializing_if = "is_default")]
    right: Option<char>,
    #[serde(default, skip_serializing_if = "is_default")]
    harmonic: Option<Harmonic>,
}

/// A harmonic: of the open string, with the fret above which it is touched where that is printed, or of a stopped one.
#[derive(Clone, Copy, PartialEq, Serialize, Deserialize)]
enum Harmonic {
    Natural(Option<u8>),
    Artificial,
}

impl From<&model::WrittenOut> for WrittenOut {
    fn from(written_out: &model::WrittenOut) -> Self {
        Self {
            notes: written_out.notes.iter().map(Note::from).collect(),
            marks: written_out.marks.iter().map(Marks::from).collect(),
            taps: written_out.taps.iter().map(Tap::from).collect(),
        }
    }
}

impl WrittenOut {
    pub(super) fn read(self) -> Result<model::WrittenOut, String> {
        Ok(model::WrittenOut {
            notes: self.notes.iter().map(Note::read).collect::<Result<_, _>>()?,
            marks: self.marks.iter().map(Marks::read).collect::<Result<_, _>>()?,
            taps: self.taps.iter().map(Tap::read).collect::<Result<_, _>>()?,
        })
    }
}

impl From<&model::Tap> for Tap {
    fn from(tap: &model::Tap) -> Self {
        Self { at: tap.at.count(), length: tap.length.count() }
    }
}

impl Tap {
    fn read(&self) -> Result<model::Tap, String> {
        Ok(model::Tap { at: time(self.at)?, length: time(self.length)? })
    }
}

impl From<&model::GivenNote> for Note {
    fn from(note: &model::GivenNote) -> Self {
        Self {
            at: note.at.count(),
            length: note.length.count(),
            pitch: note.written.to_string(),
            bass: note.is_bass,
            tied_in: note.tied_in,
            tied_out: note.tied_out,
        }
    }
}

impl Note {
    fn read(&self) -> Result<model::GivenNote, String> {
        Ok(model::GivenNote {
            at: time(self.at)?,
            length: time(self.length)?,
            written: text::spelled_pitch(&self.pitch)
                .ok_or_else(|| format!("“{}” is no note (at {} ticks)", self.pitch, self.at))?,
            is_bass: self.bass,
            tied_in: self.tied_in,
            tied_out: self.tied_out,
        })
    }
}

impl From<&model::PrintedMarks> for Marks {
    fn from(marks: &model::PrintedMarks) -> Self {
        Self {
            at: marks.at.count(),
            midi: marks.pitch.midi(),
            string: marks.string.map(StringIndex::number),
            left: marks.left.map(|mark| match mark {
                model::Mark::Open => '0',
                model::Mark::Stopped(finger) => finger.letter(),
            }),
            right: marks.right.map(RightFinger::letter),
            harmonic: marks.harmonic.map(|harmonic| match harmonic {
                model::Harmonic::Natural(node) => Harmonic::Natural(node.map(|node| node.fret().number())),
                model::Harmonic::Artificial => Harmonic::Artificial,
            }),
        }
    }
}

impl Marks {
    fn read(&self) -> Result<model::PrintedMarks, String> {
        let no = |what: &str, text: String| format!("“{text}” is no {what} (mark at {} ticks)", self.at);
        let known = |option: Option<String>, is_known: bool, what: &str| match option {
            Some(text) if !is_known => Err(no(what, text)),
            _ => Ok(()),
        };
        let string = self.string.and_then(StringIndex::from_number);
        known(self.string.map(|n| n.to_string()), string.is_some(), "string")?;
        let left = self.left.and_then(left);
        known(self.left.map(String::from), left.is_some(), "left-hand digit")?;
        let right = self.right.and_then(RightFinger::from_letter);
        known(self.right.map(String::from), right.is_some(), "right-hand letter")?;
        let pitch = handspan_core::pitch::Pitch::try_new(i32::from(self.midi));
        let pitch = pitch.ok_or_else(|| no("pitch", self.midi.to_string()))?;
        let harmonic = match self.harmonic {
            None => None,
            Some(Harmonic::Artificial) => Some(model::Harmonic::Artificial),
            Some(Harmonic::Natural(None)) => Some(model::Harmonic::Natural(None)),
            Some(Harmonic::Natural(Some(fret))) => {
                let node = Fret::try_new(i32::from(fret)).and_then(Node::at);
                let node = node.ok_or_else(|| no("fret of a natural harmonic", fret.to_string()))?;
                Some(model::Harmonic::Natural(Some(node)))
            }
        };
        Ok(model::PrintedMarks { at: time(self.at)?, pitch, string, left, right, harmonic })
    }
}

fn left(letter: char) -> Option<model::Mark> {
    let digit = |finger: &Finger| finger.letter() == letter;
    match letter {
        '0' => Some(model::Mark::Open),
        _ => [Finger::Thumb].into_iter().chain(Finger::FOUR).find(digit).map(model::Mark::Stopped),
    }
}
