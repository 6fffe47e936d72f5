//! Chord symbols: root, kind, degrees and slash bass.

use super::key::Key;
use super::kind::Kind;
use super::tones::ToneSet;
use crate::pitch::{Interval, PitchClass};
use crate::spelling::{Spelling, Step};

/// What stands above the staff: a chord, or N.C.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum ChordSymbol {
    /// No chord: nothing accompanies until the next symbol.
    NoChord,
    /// A chord.
    Chord(Chord),
}

impl ChordSymbol {
    /// The chord, none for N.C.
    pub const fn chord(&self) -> Option<&Chord> {
        match self {
            Self::Chord(chord) => Some(chord),
            Self::NoChord => None,
        }
    }

    /// The symbol moved by an interval, its spelling by so many places on the line of fifths.
    #[must_use]
    pub fn transposed(&self, fifths: i32) -> Self {
        match self {
            Self::NoChord => Self::NoChord,
            Self::Chord(chord) => Self::Chord(chord.transposed(fifths)),
        }
    }
}

/// A chord as written: `Dm7b5/Ab`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Chord {
    /// The root as spelled.
    pub root: Spelling,
    /// The kind.
    pub kind: Kind,
    /// Degrees added, altered or left out, in written order.
    pub degrees: Vec<Degree>,
    /// The bass after the slash.
    pub bass: Option<Spelling>,
    /// How the source printed the kind, where it printed it in its own way (`kind text` of MusicXML). Kept for paper,
    /// never read back as music.
    pub printed: Option<String>,
}

/// A degree of a chord that differs from its kind.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Degree {
    /// The degree above the root, 1 to 13.
    pub number: u8,
    /// Semitones by which it is altered, −2 to 2: an added degree from the degree of a dominant chord, an altered one
    /// from the tone that the kind has there. Nothing where the degree is left out.
    pub alter: i8,
    /// What is done with it.
    pub kind: DegreeKind,
}

/// What a [`Degree`] does to the kind's tones.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum DegreeKind {
    /// Sounds besides them.
    Add,
    /// Replaces the tone of the same number.
    Alter,
    /// Is left out.
    Subtract,
}

impl Degree {
    /// What players mean by `7alt`: the fifth and the ninth of a dominant chord altered (common practice, no source;
    /// the standard leaves it open).
    pub(super) const ALTERED: [Self; 3] = [
        Self::new(5, 1, DegreeKind::Alter),
        Self::new(9, -1, DegreeKind::Add),
        Self::new(9, 1, DegreeKind::Add),
    ];

    /// A degree from its parts.
    pub const fn new(number: u8, alter: i8, kind: DegreeKind) -> Self {
        Self { number, alter, kind }
    }
}

impl Chord {
    /// A chord of root and kind alone.
    pub const fn plain(root: Spelling, kind: Kind) -> Self {
        Self { root, kind, degrees: Vec::new(), bass: None, printed: None }
    }

    /// The class that belongs in the bass: the one after the slash, or the root.
    pub fn bass_class(&self) -> PitchClass {
        self.bass.unwrap_or(self.root).class()
    }

    /// The classes that sound, the slash bass included; the root alone where the kind has no intervals in the
    /// standard.
    pub fn tones(&self) -> ToneSet {
        let mut tones =
            self.degree_semitones().into_iter().map(|(_, s)| self.root.class() + s).collect::<ToneSet>();
        if tones.is_empty() {
            tones.insert(self.root.class());
        }
        tones.insert(self.bass_class());
        tones
    }

    /// The chord moved by so many places on the line of fifths.
    #[must_use]
    pub fn transposed(&self, fifths: i32) -> Self {
        let moved = |s: Spelling| Spelling::from_fifths(s.fifths() + fifths);
        Self { root: moved(self.root), bass: self.bass.map(moved), ..self.clone() }
    }

    /// How a class is written in this chord: a chord tone by its degree above the root (the third of D7 is F♯, not G♭),
    /// the slash bass as it stands, any other note by the key.
    pub fn spell(&self, class: PitchClass, key: Key) -> Spelling {
        let tones = self.degree_semitones().into_iter();
        let mut as_tone = tones
            .filter(|(_, semitones)| self.root.class() + *semitones == class)
            .filter_map(|(number, _)| spelled_at(self.root.step.up(i32::from(number) - 1), class));
        let as_bass = self.bass.filter(|bass| bass.class() == class);
        as_bass
            .or_else(|| as_tone.next())
            .or_else(|| spelled_at(self.root.step, class).filter(|s| *s == self.root))
            .unwrap_or_else(|| Spelling::of_class_in(class, i32::from(key.fifths())))
    }

    /// Degree numbers with their distance above the root after all degrees have been applied, in the order of kind and
    /// degrees.
    ///
    /// As MusicXML 4.0 has it (`degree-alter`): an added degree is measured from a dominant chord, an altered one from
    /// the tone that the kind has there; altering a degree that the kind lacks adds it.
    pub fn degree_semitones(&self) -> Vec<(u8, Interval)> {
        let mut tones: Vec<(u8, Interval)> = self
            .kind
            .intervals()
            .iter()
            .map(|s| (self.kind.degree_of(*s), Interval::new(i16::from(*s))))
            .collect();
        for degree in &self.degrees {
            let alter = i16::from(degree.alter);
            let position = tones.iter().position(|(number, _)| *number == degree.number);
            match (degree.kind, position) {
                (DegreeKind::Alter, Some(position)) => {
                    let before = tones[position].1.semitones();
                    tones[position].1 = Interval::new(before + alter);
                }
                (DegreeKind::Add | DegreeKind::Alter, _) => {
                    let sounding = dominant_scale(degree.number) + alter;
                    tones.push((degree.number, Interval::new(sounding)));
                }
                (DegreeKind::Subtract, _) => tones.retain(|(number, _)| *number != degree.number),
            }
        }
        tones
    }
}

/// A class written on a letter, with two accidentals at most.
fn spelled_at(step: Step, class: PitchClass) -> Option<Spelling> {
    let spellings = (-2..=2).map(|alter| Spelling::new(step, alter));
    spellings.into_iter().find(|s| s.class() == class)
}

/// Semitones of a degree above the root of a dominant chord: major and perfect intervals, but a minor seventh.
pub(super) fn dominant_scale(degree: u8) -> i16 {
    const STEPS: [i16; 7] = [0, 2, 4, 5, 7, 9, 10];
    let zero_based = i16::from(degree.max(1)) - 1;
    STEPS[(zero_based % 7) as usize] + 12 * (zero_based / 7)
}
