//! Key signatures.

use std::fmt;

use crate::pitch::Interval;
use crate::spelling::Spelling;

/// Major or minor; other modes of a file are kept as the one with their third.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Mode {
    /// With a major third.
    #[default]
    Major,
    /// With a minor third.
    Minor,
}

/// A key signature with its mode.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Key {
    fifths: i8,
    mode: Mode,
}

impl Key {
    /// A key of at most seven sharps (positive) or flats (negative), or none.
    pub fn try_new(fifths: i8, mode: Mode) -> Option<Self> {
        (-7..=7).contains(&fifths).then_some(Self { fifths, mode })
    }

    /// Sharps of the signature; flats are negative.
    pub const fn fifths(self) -> i8 {
        self.fifths
    }

    /// The mode.
    pub const fn mode(self) -> Mode {
        self.mode
    }

    /// The tonic: D in two sharps major, B in two sharps minor.
    pub const fn tonic(self) -> Spelling {
        let minor = if matches!(self.mode, Mode::Minor) { 3 } else { 0 };
        Spelling::from_fifths(self.fifths as i32 + minor)
    }

    /// The accidental that the signature gives a letter: −1, 0 or 1.
    pub fn accidental_of(self, step: crate::spelling::Step) -> i8 {
        (i32::from(self.fifths) - 1..=i32::from(self.fifths) + 5)
            .map(Spelling::from_fifths)
            .find(|s| s.step == step)
            .map_or(0, |s| s.alter)
    }

    /// The key moved by an interval, written with as few accidentals as possible, and how far it moved on the line
    /// of fifths (so that spellings can follow).
    pub fn transposed(self, interval: Interval) -> (Self, i32) {
        let raw = i32::from(self.fifths) + 7 * i32::from(interval.semitones());
        let near = (raw + 6).rem_euclid(12) - 6;
        // Between six flats and six sharps the side of the old key wins.
        let fifths = if near == -6 && self.fifths > 0 { 6 } else { near };
        (Self { fifths: fifths as i8, mode: self.mode }, fifths - i32::from(self.fifths))
    }
}

/// Writes `G major`, `Bb minor`; with the alternate flag `B♭ minor`.
impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tonic().fmt(f)?;
        f.write_str(match self.mode {
            Mode::Major => " major",
            Mode::Minor => " minor",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spelling::Step;

    #[test]
    fn tonics_and_signatures() {
        let key = |fifths, mode| Key::try_new(fifths, mode).unwrap();
        assert_eq!(key(-3, Mode::Major).to_string(), "Eb major");
        assert_eq!(key(-3, Mode::Minor).to_string(), "C minor");
        assert_eq!(key(2, Mode::Major).accidental_of(Step::C), 1);
        assert_eq!(key(2, Mode::Major).accidental_of(Step::G), 0);
        assert_eq!(key(-1, Mode::Major).accidental_of(Step::B), -1);
        assert_eq!(Key::try_new(8, Mode::Major), None);
    }

    #[test]
    fn transposing_keeps_the_signature_short() {
        let g = Key::try_new(1, Mode::Major).unwrap();
        assert_eq!(g.transposed(Interval::new(2)).0.to_string(), "A major");
        assert_eq!(g.transposed(Interval::new(-3)).0.to_string(), "E major");
        assert_eq!(g.transposed(Interval::new(12)), (g, 0));
        assert_eq!(g.transposed(Interval::new(1)).0.to_string(), "Ab major");
    }
}
