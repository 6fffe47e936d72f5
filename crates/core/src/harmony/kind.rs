//! The kinds of chord of MusicXML 4.0 (`kind-value`) with their intervals.

/// A kind of chord, named as in the `kind` element of MusicXML 4.0 (W3C Community Group Final Report, 2021).
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
#[expect(missing_docs, reason = "the variants are the standard's own names")]
pub enum Kind {
    Major,
    Minor,
    Augmented,
    Diminished,
    Dominant,
    MajorSeventh,
    MinorSeventh,
    DiminishedSeventh,
    AugmentedSeventh,
    HalfDiminished,
    MajorMinor,
    MajorSixth,
    MinorSixth,
    DominantNinth,
    MajorNinth,
    MinorNinth,
    Dominant11th,
    Major11th,
    Minor11th,
    Dominant13th,
    Major13th,
    Minor13th,
    SuspendedSecond,
    SuspendedFourth,
    Neapolitan,
    Italian,
    French,
    German,
    Pedal,
    Power,
    Tristan,
    Other,
}

impl Kind {
    /// Every kind but `none`, which is [`super::ChordSymbol::NoChord`], with the standard's word and the semitones
    /// above the root.
    ///
    /// The four functional sixths and `other` have no intervals in the standard: theirs are empty.
    const TABLE: [(Self, &'static str, &'static [u8]); 32] = [
        (Self::Major, "major", &[0, 4, 7]),
        (Self::Minor, "minor", &[0, 3, 7]),
        (Self::Augmented, "augmented", &[0, 4, 8]),
        (Self::Diminished, "diminished", &[0, 3, 6]),
        (Self::Dominant, "dominant", &[0, 4, 7, 10]),
        (Self::MajorSeventh, "major-seventh", &[0, 4, 7, 11]),
        (Self::MinorSeventh, "minor-seventh", &[0, 3, 7, 10]),
        (Self::DiminishedSeventh, "diminished-seventh", &[0, 3, 6, 9]),
        (Self::AugmentedSeventh, "augmented-seventh", &[0, 4, 8, 10]),
        (Self::HalfDiminished, "half-diminished", &[0, 3, 6, 10]),
        (Self::MajorMinor, "major-minor", &[0, 3, 7, 11]),
        (Self::MajorSixth, "major-sixth", &[0, 4, 7, 9]),
        (Self::MinorSixth, "minor-sixth", &[0, 3, 7, 9]),
        (Self::DominantNinth, "dominant-ninth", &[0, 4, 7, 10, 14]),
        (Self::MajorNinth, "major-ninth", &[0, 4, 7, 11, 14]),
        (Self::MinorNinth, "minor-ninth", &[0, 3, 7, 10, 14]),
        (Self::Dominant11th, "dominant-11th", &[0, 4, 7, 10, 14, 17]),
        (Self::Major11th, "major-11th", &[0, 4, 7, 11, 14, 17]),
        (Self::Minor11th, "minor-11th", &[0, 3, 7, 10, 14, 17]),
        (Self::Dominant13th, "dominant-13th", &[0, 4, 7, 10, 14, 17, 21]),
        (Self::Major13th, "major-13th", &[0, 4, 7, 11, 14, 17, 21]),
        (Self::Minor13th, "minor-13th", &[0, 3, 7, 10, 14, 17, 21]),
        (Self::SuspendedSecond, "suspended-second", &[0, 2, 7]),
        (Self::SuspendedFourth, "suspended-fourth", &[0, 5, 7]),
        (Self::Neapolitan, "Neapolitan", &[]),
        (Self::Italian, "Italian", &[]),
        (Self::French, "French", &[]),
        (Self::German, "German", &[]),
        (Self::Pedal, "pedal", &[0]),
        (Self::Power, "power", &[0, 7]),
        (Self::Tristan, "Tristan", &[0, 6, 10, 15]),
        (Self::Other, "other", &[]),
    ];

    /// Every kind, in the standard's order.
    pub fn all() -> impl Iterator<Item = Self> {
        Self::TABLE.iter().map(|(kind, ..)| *kind)
    }

    /// The kind named by the standard's word.
    pub fn from_musicxml(word: &str) -> Option<Self> {
        Self::TABLE.iter().find(|(_, w, _)| *w == word).map(|(kind, ..)| *kind)
    }

    /// The standard's word.
    pub fn musicxml(self) -> &'static str {
        Self::TABLE[self as usize].1
    }

    /// Semitones of the chord tones above the root, lowest first, ninths and more above the octave; empty where the
    /// standard gives none.
    pub fn intervals(self) -> &'static [u8] {
        Self::TABLE[self as usize].2
    }

    /// Whether the standard says what sounds. Where it does not, a chord is kept as text and only its root, its bass
    /// and the degrees added to it are sure, which a reader of files should tell.
    pub fn has_intervals(self) -> bool {
        !self.intervals().is_empty()
    }

    /// Semitones of the degree with this number above the root, none where the kind has none.
    pub(super) fn tone_of(self, degree: u8) -> Option<i16> {
        let mut mine = self.intervals().iter().filter(|s| self.degree_of(**s) == degree);
        mine.next().map(|s| i16::from(*s))
    }

    /// The degree above the root that one of [`Self::intervals`] is.
    pub(super) fn degree_of(self, semitones: u8) -> u8 {
        match (semitones, self) {
            (0, _) => 1,
            (2, _) => 2,
            (3 | 4, _) => 3,
            (5, _) | (6, Self::Tristan) => 4,
            (6..=8, _) => 5,
            (9, Self::DiminishedSeventh) => 7,
            (9, _) | (10, Self::Tristan) => 6,
            (10 | 11, _) => 7,
            (14 | 15, _) => 9,
            (17, _) => 11,
            _ => 13,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_the_order_of_the_variants() {
        for (index, kind) in Kind::all().enumerate() {
            assert_eq!(kind as usize, index, "{kind:?}");
            assert_eq!(Kind::from_musicxml(kind.musicxml()), Some(kind));
        }
    }
}
