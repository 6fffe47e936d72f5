//! Which grips of a list a player wants to see.

use std::ops::RangeInclusive;

use super::grip::{Grip, StringSet};
use super::reach::Reach;
use crate::harmony::ToneSet;
use crate::neck::Fret;
use crate::pitch::Pitch;

/// What a grip has to be besides meeting the wish. The default lets every grip through.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Filter {
    /// How many strings sound, where that matters.
    pub notes: Option<RangeInclusive<usize>>,
    /// The highest fret that a finger may stand at.
    pub highest_fret: Option<Fret>,
    /// Where the hand may stand, by the fret of its index finger. A grip of open strings alone has no position and
    /// passes.
    pub position: Option<RangeInclusive<Fret>>,
    /// No finger over several strings.
    pub no_barre: bool,
    /// The only strings that may sound.
    pub strings: StringSet,
    /// The guide tones of the chord sound.
    pub guide_tones: bool,
    /// The lowest of several notes is an open string.
    pub open_bass: bool,
}

impl Default for Filter {
    fn default() -> Self {
        Self {
            notes: None,
            highest_fret: None,
            position: None,
            no_barre: false,
            strings: StringSet::ALL,
            guide_tones: false,
            open_bass: false,
        }
    }
}

impl Filter {
    /// Whether it lets every grip through.
    pub fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// Whether a grip passes. The guide tones are those of the chord in force; none where there is no chord.
    pub fn admits(&self, reach: &Reach, guide_tones: ToneSet, grip: &Grip) -> bool {
        let frets_in = |highest| grip.stopped().all(|(place, _)| place.fret <= highest);
        let stands_in = |range: &RangeInclusive<Fret>| grip.position().is_none_or(|at| range.contains(&at));
        let has_barre = || grip.digits().iter().any(|(_, _, strings)| strings.len() > 1);
        self.notes.as_ref().is_none_or(|notes| notes.contains(&grip.len()))
            && self.highest_fret.is_none_or(frets_in)
            && self.position.as_ref().is_none_or(stands_in)
            && grip.strings().without(self.strings).is_empty()
            && !(self.no_barre && has_barre())
            && (!self.guide_tones || sounds(reach, grip, guide_tones))
            && (!self.open_bass || has_open_bass(reach, grip))
    }
}

fn sounds(reach: &Reach, grip: &Grip, tones: ToneSet) -> bool {
    let sounding: ToneSet = grip.pitches(reach.instrument()).map(Pitch::class).collect();
    sounding.contains_all(tones)
}

/// A grip of one note has no bass that could be stopped.
fn has_open_bass(reach: &Reach, grip: &Grip) -> bool {
    let lowest = grip.holds().min_by_key(|(string, hold)| hold.sounds(reach.instrument(), *string));
    grip.len() < 2 || lowest.is_some_and(|(_, hold)| hold.fret().is_open())
}
