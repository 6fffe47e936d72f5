//! Lines that a lead sheet gives beside its melody: a bass line and hooks.

use crate::pitch::Pitch;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;

/// A line beside the melody, in part rank.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Line {
    /// The bass as it is written, in place of whatever bass a chord would get.
    Bass,
    /// A short figure that is neither melody nor bass and has to be in.
    Hook,
}

impl Line {
    /// Both of them.
    pub const ALL: [Self; 2] = [Self::Bass, Self::Hook];

    /// The line in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bass => "bass line",
            Self::Hook => "hook",
        }
    }
}

/// A note of a line, its ties joined: one stroke and how long it sounds.
///
/// Where the melody sounds it can only be played below it; what lies higher is given and gives way.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct LineNote {
    /// When it begins, from the beginning of the tune in written order.
    pub at: Ticks,
    /// How long it sounds.
    pub length: Ticks,
    /// What sounds, as spelled.
    pub written: SpelledPitch,
    /// Where it belongs.
    pub line: Line,
}

impl LineNote {
    /// What sounds. A tune only holds notes within MIDI.
    pub fn pitch(&self) -> Pitch {
        self.written.pitch().unwrap_or(Pitch::new(Pitch::MAX))
    }

    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }
}
