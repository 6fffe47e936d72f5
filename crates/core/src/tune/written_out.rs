//! Guitar music that is written out: besides the melody every note is given, and some carry printed fingers.

use crate::hand::{Finger, RightFinger};
use crate::neck::{Node, StringIndex, Touch};
use crate::pitch::{Interval, Pitch};
use crate::spelling::SpelledPitch;
use crate::time::Ticks;

/// What stands below the melody of written-out music, and the marks of all its notes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct WrittenOut {
    /// The notes below the melody in order of time.
    pub notes: Vec<GivenNote>,
    /// Printed strings and fingers in order of time.
    pub marks: Vec<PrintedMarks>,
    /// Percussive hits on strings or body in order of time, one after another.
    pub taps: Vec<Tap>,
}

/// A percussive hit on the strings or the body: no pitch, only a time and how long it is written.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Tap {
    /// When, from the beginning of the tune in written order.
    pub at: Ticks,
    /// How long it is written.
    pub length: Ticks,
}

impl Tap {
    /// When its written length ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }
}

/// A note below the melody, its ties joined: one stroke and how long it sounds.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct GivenNote {
    /// When it begins, from the beginning of the tune in written order.
    pub at: Ticks,
    /// How long it sounds.
    pub length: Ticks,
    /// What sounds, as spelled.
    pub written: SpelledPitch,
    /// Whether it belongs to the lowest voice; an inner voice otherwise.
    pub is_bass: bool,
    /// Not struck: the note before it in playing order, across a repeat or a jump, is tied to it.
    pub tied_in: bool,
    /// Tied to a note elsewhere in playing order, across a repeat or a jump.
    pub tied_out: bool,
}

impl GivenNote {
    /// What sounds. A tune only holds notes within MIDI.
    pub fn pitch(&self) -> Pitch {
        self.written.pitch().unwrap_or(Pitch::new(Pitch::MAX))
    }

    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }
}

/// What is printed beside a note.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct PrintedMarks {
    /// When the note begins.
    pub at: Ticks,
    /// What sounds.
    pub pitch: Pitch,
    /// The string.
    pub string: Option<StringIndex>,
    /// The left-hand digit.
    pub left: Option<Mark>,
    /// The right-hand letter.
    pub right: Option<RightFinger>,
    /// The harmonic that the note is.
    pub harmonic: Option<Harmonic>,
}

/// A printed left-hand digit.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Mark {
    /// 0
    Open,
    /// 1 to 4, or T
    Stopped(Finger),
}

/// A harmonic that is asked for; the pitch of its note is what sounds.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Harmonic {
    /// Of an open string, at the node that is printed or at any that sounds the pitch.
    Natural(Option<Node>),
    /// Of a stopped string.
    Artificial,
}

impl Harmonic {
    /// What is asked for by a touch, at any node; none for an ordinary note.
    pub const fn of(touch: Touch) -> Option<Self> {
        match touch {
            Touch::Plain => None,
            Touch::Natural => Some(Self::Natural(None)),
            Touch::Artificial => Some(Self::Artificial),
        }
    }

    /// The same at no particular node.
    #[must_use]
    pub const fn anywhere(self) -> Self {
        match self {
            Self::Natural(_) => Self::Natural(None),
            Self::Artificial => Self::Artificial,
        }
    }
}

impl PrintedMarks {
    /// The same a few semitones away: strings, digits and nodes are given up, a harmonic stays one. None where nothing
    /// stays.
    pub(super) fn moved(&self, interval: Interval) -> Option<Self> {
        let harmonic = Some(self.harmonic?.anywhere());
        let pitch = self.pitch.checked_add(interval)?;
        Some(Self { at: self.at, pitch, string: None, left: None, right: None, harmonic })
    }
}
