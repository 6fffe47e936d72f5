//! What one moment demands, part by part.

use super::lines::LineDemands;
use crate::grip::BassChoice;
use crate::harmony::ToneSet;
use crate::pitch::Pitch;
use crate::plan::Lock;
use crate::time::Ticks;

/// A part of the arrangement, in part rank: what stands first gives way last.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Part {
    /// The tune's identity; never gives way.
    Melody,
    /// The lowest voice.
    Bass,
    /// Figures that are written down beside the melody.
    Hook,
    /// Chord tones between.
    Inner,
    /// Percussive hits on strings or body.
    Tap,
}

impl Part {
    /// The part in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Melody => "melody",
            Self::Bass => "bass",
            Self::Hook => "hook",
            Self::Inner => "inner voice",
            Self::Tap => "tap",
        }
    }
}

/// What the melody does at a moment.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum MelodyDemand {
    /// Nothing sounds.
    Rest,
    /// A note begins: it may be placed anywhere it sounds.
    Begins {
        /// The index of the note in the tune.
        note: usize,
        /// What sounds.
        pitch: Pitch,
    },
    /// A note that began earlier sounds on, on its string under its finger.
    SoundsOn {
        /// What sounds.
        pitch: Pitch,
    },
}

impl MelodyDemand {
    /// What sounds, if anything.
    pub const fn pitch(self) -> Option<Pitch> {
        match self {
            Self::Rest => None,
            Self::Begins { pitch, .. } | Self::SoundsOn { pitch } => Some(pitch),
        }
    }
}

/// The strokes that are wanted under the melody: a bass and as many chord tones as are worth their effort.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Accompaniment {
    /// What the bass is; it may lie in any octave below the melody unless a lock says which.
    pub bass: BassChoice,
    /// The chord's tones.
    pub tones: ToneSet,
    /// The tones that tell the chord from others: third and seventh.
    pub guide_tones: ToneSet,
}

/// What one moment demands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Demand {
    /// When, in written order.
    pub at: Ticks,
    /// Until the next moment, or the end.
    pub length: Ticks,
    /// How much time the move to this moment has.
    pub milliseconds: i64,
    /// The melody.
    pub melody: MelodyDemand,
    /// A written bass line and hooks.
    pub lines: LineDemands,
    /// What is struck under it; none where melody and lines go on alone over what rings.
    pub accompaniment: Option<Accompaniment>,
    /// Until when the accompaniment rings that is struck here, or that was struck last.
    pub rings_until: Ticks,
    /// What the arranger locked.
    pub lock: Lock,
}

impl Demand {
    /// How long an accompaniment struck earlier may ring on from here; nothing where it has ended or is struck anew.
    pub fn rings_on(&self) -> Ticks {
        if self.accompaniment.is_some() { Ticks::ZERO } else { (self.rings_until - self.at).max(Ticks::ZERO) }
    }
}
