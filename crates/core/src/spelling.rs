//! How a pitch is written: a letter, its accidental and an octave.

use std::fmt;

use crate::pitch::{Interval, Pitch, PitchClass};

/// One of the seven letters of the staff.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Step {
    /// C
    C,
    /// D
    D,
    /// E
    E,
    /// F
    F,
    /// G
    G,
    /// A
    A,
    /// B
    B,
}

impl Step {
    /// From C up.
    pub const ALL: [Self; 7] = [Self::C, Self::D, Self::E, Self::F, Self::G, Self::A, Self::B];

    /// Semitones above C.
    pub const fn semitones(self) -> i16 {
        [0, 2, 4, 5, 7, 9, 11][self as usize]
    }

    /// The letter.
    pub const fn letter(self) -> char {
        ['C', 'D', 'E', 'F', 'G', 'A', 'B'][self as usize]
    }

    /// The step named by a letter of either case.
    pub fn from_letter(letter: char) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.letter() == letter.to_ascii_uppercase())
    }

    /// The step so many letters up (or down).
    pub const fn up(self, letters: i32) -> Self {
        Self::ALL[(self as i32 + letters).rem_euclid(7) as usize]
    }
}

/// A letter with its accidental: −1 is a flat, +1 a sharp.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spelling {
    /// The letter.
    pub step: Step,
    /// Semitones by which accidentals alter it, −3 to 3 in practice.
    pub alter: i8,
}

impl Spelling {
    /// A spelling from its parts.
    pub const fn new(step: Step, alter: i8) -> Self {
        Self { step, alter }
    }

    /// The sounding class.
    pub fn class(self) -> PitchClass {
        PitchClass::from_semitones(i32::from(self.step.semitones()) + i32::from(self.alter))
    }

    /// The place on the line of fifths: F −1, C 0, G 1, … F♯ 6, B♭ −2.
    pub const fn fifths(self) -> i32 {
        [0, 2, 4, -1, 1, 3, 5][self.step as usize] + 7 * self.alter as i32
    }

    /// The spelling at a place on the line of fifths.
    pub const fn from_fifths(fifths: i32) -> Self {
        const ORDER: [Step; 7] = [Step::F, Step::C, Step::G, Step::D, Step::A, Step::E, Step::B];
        let shifted = fifths + 1;
        Self { step: ORDER[shifted.rem_euclid(7) as usize], alter: shifted.div_euclid(7) as i8 }
    }

    /// The spelling of `class` that lies nearest to the middle of a key with so many fifths (sharps positive):
    /// in G major the tritone of C is F♯, in A♭ major G♭.
    pub fn of_class_in(class: PitchClass, key_fifths: i32) -> Self {
        // The twelve spellings from two flats' side to the sharps' side around the key's own scale.
        (key_fifths - 4..key_fifths + 8)
            .map(Self::from_fifths)
            .find(|s| s.class() == class)
            .unwrap_or_else(|| Self::from_fifths(0))
    }

    /// Reads `C`, `F#`, `Bb`, `E♭`, `Fx`, `B♭♭` from the front of a text; gives the rest as well.
    pub fn read(text: &str) -> Option<(Self, &str)> {
        let mut rest = text.chars();
        let step = Step::from_letter(rest.next().filter(char::is_ascii_uppercase)?)?;
        let mut alter = 0;
        loop {
            let left = rest.as_str();
            alter += match rest.next() {
                Some('#' | '♯') => 1,
                Some('b' | '♭') => -1,
                Some('x' | '𝄪') => 2,
                Some('𝄫') => -2,
                Some('♮') => 0,
                _ => return Some((Self { step, alter }, left)),
            };
            if !(-3..=3).contains(&alter) {
                return None;
            }
        }
    }
}

impl fmt::Debug for Spelling {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Spelling({self})")
    }
}

/// Writes plain text, `F#`, `Bb`; with the alternate flag (`{:#}`) real signs, `F♯`, `B♭`.
impl fmt::Display for Spelling {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = match (self.alter < 0, f.alternate()) {
            (true, false) => "b",
            (true, true) => "♭",
            (false, false) => "#",
            (false, true) => "♯",
        };
        write!(f, "{}{}", self.step.letter(), sign.repeat(usize::from(self.alter.unsigned_abs())))
    }
}

/// A written pitch at its sounding octave; octave 4 begins at the middle C.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct SpelledPitch {
    /// Letter and accidental.
    pub spelling: Spelling,
    /// The octave of the letter: B♯3 sounds as C4.
    pub octave: i8,
}

impl SpelledPitch {
    /// The sounding pitch, or none outside MIDI.
    pub fn pitch(self) -> Option<Pitch> {
        let semitones = i32::from(self.spelling.step.semitones()) + i32::from(self.spelling.alter);
        Pitch::try_new(12 * (i32::from(self.octave) + 1) + semitones)
    }

    /// The written pitch that sounds as `pitch` with the letter and accidental of `spelling`.
    ///
    /// The spelling's class must be the pitch's; where it is not, the pitch is written with sharps.
    pub fn new(pitch: Pitch, spelling: Spelling) -> Self {
        let spelling = if spelling.class() == pitch.class() {
            spelling
        } else {
            Spelling::of_class_in(pitch.class(), 2)
        };
        let above_letter = i16::from(pitch.midi()) - spelling.step.semitones() - i16::from(spelling.alter);
        Self { spelling, octave: (above_letter.div_euclid(12) - 1) as i8 }
    }

    /// The same note moved by an interval and written for a key so many fifths further on the line of fifths.
    pub fn transposed(self, interval: Interval, fifths: i32) -> Option<Self> {
        let pitch = self.pitch()?.checked_add(interval)?;
        Some(Self::new(pitch, Spelling::from_fifths(self.spelling.fifths() + fifths)))
    }
}

impl fmt::Debug for SpelledPitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "SpelledPitch({self})")
    }
}

/// Writes letter, accidental and octave: `Bb3`, or `B♭3` with the alternate flag.
impl fmt::Display for SpelledPitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.spelling.fmt(f)?;
        write!(f, "{}", self.octave)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_of_fifths_goes_both_ways() {
        for fifths in -15..=15 {
            assert_eq!(Spelling::from_fifths(fifths).fifths(), fifths);
        }
        assert_eq!(Spelling::from_fifths(6).to_string(), "F#");
        assert_eq!(Spelling::from_fifths(-2).to_string(), "Bb");
    }

    #[test]
    fn reads_signs_of_both_kinds() {
        assert_eq!(Spelling::read("Bbm7"), Some((Spelling::new(Step::B, -1), "m7")));
        assert_eq!(Spelling::read("F♯"), Some((Spelling::new(Step::F, 1), "")));
        assert_eq!(Spelling::read("Hm"), None);
        assert_eq!(Spelling::read("C####"), None);
        assert_eq!(Spelling::read(""), None);
    }

    #[test]
    fn octaves_follow_the_letter() {
        let b_sharp = SpelledPitch { spelling: Spelling::new(Step::B, 1), octave: 3 };
        assert_eq!(b_sharp.pitch(), Some(Pitch::new(60)));
        assert_eq!(SpelledPitch::new(Pitch::new(60), b_sharp.spelling), b_sharp);
        let c_flat = SpelledPitch::new(Pitch::new(59), Spelling::new(Step::C, -1));
        assert_eq!(c_flat.to_string(), "Cb4");
    }

    #[test]
    fn keys_choose_the_spelling() {
        let tritone = PitchClass::from_semitones(6);
        assert_eq!(Spelling::of_class_in(tritone, 1).to_string(), "F#");
        assert_eq!(Spelling::of_class_in(tritone, -4).to_string(), "Gb");
        assert_eq!(Spelling::of_class_in(PitchClass::from_semitones(10), 0).to_string(), "Bb");
    }
}
