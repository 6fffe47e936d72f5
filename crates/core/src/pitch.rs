//! Sounding height: MIDI note numbers, pitch classes and the intervals between them.
//!
//! How a pitch is written (C sharp or D flat) is [`crate::spelling`]'s concern.

use std::fmt;
use std::ops::{Add, Sub};

/// A sounding pitch as a MIDI note number, 0 to 127; 60 is C4, the middle C.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pitch(u8);

impl Pitch {
    /// The highest MIDI note number.
    pub const MAX: u8 = 127;

    /// A pitch from a literal.
    ///
    /// # Panics
    /// Above [`Self::MAX`], at compile time where the literal stands in a constant.
    pub const fn new(midi: u8) -> Self {
        assert!(midi <= Self::MAX, "a MIDI note number is at most 127");
        Self(midi)
    }

    /// A pitch from data, or none outside 0 to 127.
    pub fn try_new(midi: i32) -> Option<Self> {
        u8::try_from(midi).ok().filter(|m| *m <= Self::MAX).map(Self)
    }

    /// The MIDI note number.
    pub const fn midi(self) -> u8 {
        self.0
    }

    /// The note without its octave.
    pub const fn class(self) -> PitchClass {
        PitchClass(self.0 % 12)
    }

    /// The pitch so many semitones away, or none where MIDI ends.
    pub fn checked_add(self, interval: Interval) -> Option<Self> {
        Self::try_new(i32::from(self.0) + i32::from(interval.semitones()))
    }

    /// The frequency in hertz in equal temperament at A4 = 440 Hz (ISO 16).
    pub fn hertz(self) -> f64 {
        440.0 * libm::exp2((f64::from(self.0) - 69.0) / 12.0)
    }
}

impl Sub for Pitch {
    type Output = Interval;

    fn sub(self, other: Self) -> Interval {
        Interval(i16::from(self.0) - i16::from(other.0))
    }
}

impl fmt::Debug for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Pitch({self})")
    }
}

/// Writes the pitch with sharps and its octave: `F#4`.
impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.class(), i16::from(self.0 / 12) - 1)
    }
}

/// A note without its octave, 0 (C) to 11 (B).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PitchClass(u8);

impl PitchClass {
    /// All twelve, from C up.
    pub const ALL: [Self; 12] = {
        let mut all = [Self(0); 12];
        let mut i = 0;
        while i < 12 {
            all[i] = Self(i as u8);
            i += 1;
        }
        all
    };

    /// The class of any number of semitones above (or below) C.
    pub const fn from_semitones(semitones: i32) -> Self {
        Self(semitones.rem_euclid(12) as u8)
    }

    /// The number of semitones above C, 0 to 11.
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Semitones up from `other` to this class, 0 to 11.
    pub const fn above(self, other: Self) -> u8 {
        (self.0 + 12 - other.0) % 12
    }
}

impl Add<Interval> for PitchClass {
    type Output = Self;

    fn add(self, interval: Interval) -> Self {
        Self::from_semitones(i32::from(self.0) + i32::from(interval.0))
    }
}

impl fmt::Debug for PitchClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PitchClass({self})")
    }
}

/// Writes the class with a sharp where it has none of its own: `F#`.
impl fmt::Display for PitchClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const NAMES: [&str; 12] = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];
        f.write_str(NAMES[usize::from(self.0)])
    }
}

/// A difference of pitches in semitones; negative downwards.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Interval(i16);

impl Interval {
    /// So many semitones.
    pub const fn new(semitones: i16) -> Self {
        Self(semitones)
    }

    /// The number of semitones.
    pub const fn semitones(self) -> i16 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pitch_keeps_within_midi() {
        assert_eq!(Pitch::try_new(127).map(Pitch::midi), Some(127));
        assert_eq!(Pitch::try_new(128), None);
        assert_eq!(Pitch::try_new(-1), None);
        assert_eq!(Pitch::new(3).checked_add(Interval::new(-4)), None);
    }

    #[test]
    fn names_and_classes() {
        assert_eq!(Pitch::new(60).to_string(), "C4");
        assert_eq!(Pitch::new(66).to_string(), "F#4");
        assert_eq!(Pitch::new(0).to_string(), "C-1");
        assert_eq!(PitchClass::from_semitones(-1).number(), 11);
        assert_eq!(Pitch::new(64).class().above(Pitch::new(69).class()), 7);
    }
}
