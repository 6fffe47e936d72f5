//! How a tune lies on a guitar.

use crate::neck::Instrument;
use crate::pitch::Interval;

/// One way for a tune to lie on a guitar: the key it sounds in, the tuning and the capo.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Lie {
    /// How far it sounds from the tune as written.
    pub transpose: Interval,
    /// The tuning and the capo, on the guitar that is played.
    pub instrument: Instrument,
}

impl Lie {
    /// How far what the hand grips lies from the tune as written: a capo raises what is gripped.
    pub fn gripped(&self) -> Interval {
        Interval::new(self.transpose.semitones() - i16::from(self.instrument.capo()))
    }
}
