//! Guitar music that is written out: besides the melody every note is given, and some carry printed fingers.

use crate::hand::{Finger, RightFinger};
use crate::neck::StringIndex;
use crate::pitch::Pitch;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;

/// What stands below the melody of written-out music, and the marks of all its notes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct WrittenOut {
    /// The notes below the melody in order of time.
    pub notes: Vec<GivenNote>,
    /// Printed strings and fingers in order of time.
    pub marks: Vec<PrintedMarks>,
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
}

/// A printed left-hand digit.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Mark {
    /// 0
    Open,
    /// 1 to 4, or T
    Stopped(Finger),
}
