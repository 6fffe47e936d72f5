//! What the judge says: a broken rule with its place.

use std::fmt;

use thiserror::Error;

use super::left::GripFault;
use super::right::StrokeFault;
use crate::harmony::ChordSymbol;
use crate::neck::{Place, StringIndex};
use crate::pitch::Pitch;
use crate::time::Ticks;
use crate::tune::{BarBeat, Tune};

/// A broken rule and where it is broken.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Violation {
    /// When, in written order.
    pub at: Ticks,
    /// The same as players say it.
    pub bar_beat: BarBeat,
    /// What is wrong.
    pub rule: Rule,
}

impl Violation {
    pub(super) fn new(tune: &Tune, at: Ticks, rule: impl Into<Rule>) -> Self {
        Self { at, bar_beat: tune.bar_beat(at), rule: rule.into() }
    }
}

/// Writes a sentence: `bar 7, beat 2: finger 2 is on string 1, fret 7 and on string 3, fret 5 at once`.
impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.bar_beat, self.rule)
    }
}

/// A rule that a score breaks, with what breaks it.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Rule {
    /// The left hand.
    #[error(transparent)]
    Grip(#[from] GripFault),
    /// The right hand.
    #[error(transparent)]
    Stroke(#[from] StrokeFault),
    /// The pitch is not open string + capo + fret, nor what the harmonic there sounds.
    #[error("{place} sounds {sounds}, but {written} is written")]
    Pitch {
        /// Where it is played.
        place: Place,
        /// What sounds there.
        sounds: Pitch,
        /// What stands on paper.
        written: Pitch,
    },
    /// A natural harmonic that no finger touches when it is struck.
    #[error("no finger touches {0} for its harmonic")]
    NotTouched(Place),
    /// A tap that is written with no length.
    #[error("a tap has no length")]
    TapWithoutLength,
    /// Two taps at one time.
    #[error("two taps stand at one time")]
    TwoTaps,
    /// A tap with the thumb that plucks, or with the hand whose fingers pluck.
    #[error("what plucks string {0} taps at the same time")]
    TapsAndPlucks(StringIndex),
    /// A given tap that does not stand in the score.
    #[error("a tap is missing")]
    TapMissing,
    /// A note that ends when or before it begins.
    #[error("the note on string {0} has no length")]
    NoLength(StringIndex),
    /// Two notes on one string at once.
    #[error("string {0} is used for two notes at once")]
    StringTwice(StringIndex),
    /// A string struck while its note still sounds.
    #[error("string {string} is struck while its note from {since} still sounds")]
    StillSounding {
        /// The string.
        string: StringIndex,
        /// Where the older note begins.
        since: BarBeat,
    },
    /// A note that is not struck, though nothing rings on to it.
    #[error("{0} is tied to the note before, but none that is played right before rings on there")]
    TiedToNothing(Place),
    /// A melody note that does not stand in the score.
    #[error("the melody note {0} is missing")]
    MelodyMissing(Pitch),
    /// A melody note shortened or held too long.
    #[error("the melody note {pitch} lasts {sounds} in quarter notes, but {written} is written")]
    MelodyLength {
        /// The note.
        pitch: Pitch,
        /// How long it sounds.
        sounds: Ticks,
        /// How long it is written.
        written: Ticks,
    },
    /// A melody note struck again where it is tied.
    #[error("the melody note {0} is struck, but it is tied to the one before")]
    MelodyStruck(Pitch),
    /// A melody note that is not struck where it begins.
    #[error("the melody note {0} is tied to the one before, but it is to be struck")]
    MelodyNotStruck(Pitch),
    /// A note above the melody note it is struck with.
    #[error("the melody note {melody} lies under {above}")]
    MelodyCovered {
        /// The melody note.
        melody: Pitch,
        /// The note above.
        above: Pitch,
    },
    /// A given note that does not stand in the score.
    #[error("the note {0} is missing")]
    NoteMissing(Pitch),
    /// A given note that is let go too early.
    #[error("the note {pitch} lasts {sounds} in quarter notes, but {written} is written")]
    NoteLength {
        /// The note.
        pitch: Pitch,
        /// How long it sounds.
        sounds: Ticks,
        /// How long it is written.
        written: Ticks,
    },
    /// A chord symbol of the tune that the score has lost.
    #[error("the chord symbol {0} is missing")]
    ChordMissing(ChordSymbol),
    /// A bar longer or shorter than the tune's.
    #[error("the bar lasts {score} in quarter notes, but {tune} in the tune")]
    BarLength {
        /// The bar of the score.
        score: Ticks,
        /// The bar of the tune.
        tune: Ticks,
    },
    /// Bars lost or added.
    #[error("there are {score} bars, but {tune} in the tune")]
    BarCount {
        /// Bars of the score.
        score: usize,
        /// Bars of the tune.
        tune: usize,
    },
}
