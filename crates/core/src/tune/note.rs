//! Melody notes, chord symbols and tempi at their times.

use crate::harmony::ChordSymbol;
use crate::pitch::Pitch;
use crate::spelling::SpelledPitch;
use crate::time::{Tempo, Ticks};

/// A note of the melody, its ties joined: one stroke and how long it sounds.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct MelodyNote {
    /// When it begins, from the beginning of the tune in written order.
    pub at: Ticks,
    /// How long it sounds.
    pub length: Ticks,
    /// What sounds, as spelled.
    pub written: SpelledPitch,
    /// Not struck: the note before it in playing order, across a repeat or a jump, is tied to it.
    pub tied_in: bool,
    /// Tied to a note elsewhere in playing order, across a repeat or a jump.
    pub tied_out: bool,
}

impl MelodyNote {
    /// What sounds. A tune only holds notes within MIDI.
    pub fn pitch(&self) -> Pitch {
        self.written.pitch().unwrap_or(Pitch::new(Pitch::MAX))
    }

    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }
}

/// A chord symbol and when it begins to hold.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct ChordAt {
    /// From when on.
    pub at: Ticks,
    /// The chord.
    pub symbol: ChordSymbol,
}

/// A tempo and when it begins to hold.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct TempoAt {
    /// From when on.
    pub at: Ticks,
    /// How fast.
    pub tempo: Tempo,
}
