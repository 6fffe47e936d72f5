//! The score: every note of an arrangement with its place on the neck and both hands' fingers.
//!
//! This is all that paper and files are made from, and what is read back from a file to be checked.

use std::sync::Arc;

use crate::demand::Part;
use crate::hand::{Finger, RightFinger};
use crate::neck::{Fret, Instrument, Place, Touch};
use crate::pitch::Pitch;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::Tune;

/// One stroke: a note from when it is struck until it ends.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ScoreNote {
    /// When it begins, in written order.
    pub at: Ticks,
    /// How long it rings.
    pub length: Ticks,
    /// What sounds, as spelled.
    pub written: SpelledPitch,
    /// Where it is played: above which fret it is touched for a natural harmonic.
    pub place: Place,
    /// How it is made to sound there.
    pub touch: Touch,
    /// The left-hand finger; none on an open string, or where a file names none.
    pub finger: Option<Finger>,
    /// The right-hand finger; none where a file names none, and for a note that is tied in.
    pub pluck: Option<RightFinger>,
    /// Which part it belongs to.
    pub part: Part,
    /// Not struck: the note before it in playing order, across a repeat or a jump, is tied to it.
    pub tied_in: bool,
    /// Tied to a note elsewhere in playing order, across a repeat or a jump.
    pub tied_out: bool,
}

impl ScoreNote {
    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }

    /// Where the string is pressed: nowhere, as if open, for a natural harmonic.
    pub fn pressed(&self) -> Fret {
        match self.touch {
            Touch::Natural => Fret::OPEN,
            Touch::Plain | Touch::Artificial => self.place.fret,
        }
    }

    /// What sounds as written; [`crate::check`] compares it with the place.
    pub fn pitch(&self) -> Pitch {
        self.written.pitch().unwrap_or(Pitch::new(Pitch::MAX))
    }
}

/// A percussive hit on the strings or the body.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ScoreTap {
    /// When, in written order.
    pub at: Ticks,
    /// How long it is written.
    pub length: Ticks,
    /// What it is struck with.
    pub by: TapBy,
}

/// What of the right hand taps.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum TapBy {
    /// The thumb, while fingers may pluck.
    Thumb,
    /// The whole hand, which plucks nothing meanwhile.
    Hand,
}

/// A whole arrangement as it stands on paper, in written order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Score {
    /// Bars, chord symbols and tempi as they sound, and the melody to be kept: already transposed.
    pub tune: Arc<Tune>,
    /// What it is played on.
    pub instrument: Instrument,
    /// The notes by time, then from the highest string to the lowest.
    pub notes: Vec<ScoreNote>,
    /// The taps by time.
    pub taps: Vec<ScoreTap>,
}

impl Score {
    /// The notes that sound at a time: struck then or earlier, and not yet ended.
    pub fn sounding_at(&self, at: Ticks) -> impl Iterator<Item = &ScoreNote> {
        let to = self.notes.partition_point(|n| n.at <= at);
        self.notes[..to].iter().filter(move |n| n.end() > at)
    }
}
