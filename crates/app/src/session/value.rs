//! The lengths of notes as players name them.

use handspan_core::time::Ticks;

/// A note value without dot and triplet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Base {
    Whole,
    Half,
    Quarter,
    Eighth,
    Sixteenth,
}

impl Base {
    /// From the longest down.
    pub const ALL: [Self; 5] = [Self::Whole, Self::Half, Self::Quarter, Self::Eighth, Self::Sixteenth];

    /// In a player's words.
    pub const fn name(self) -> &'static str {
        ["whole", "half", "quarter", "eighth", "sixteenth"][self as usize]
    }

    /// How long it is.
    pub const fn length(self) -> Ticks {
        Ticks::new(4 * Ticks::PER_QUARTER >> (self as i64))
    }
}

/// A note value.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct NoteValue {
    /// Without dot and triplet.
    pub base: Base,
    /// Half as long again.
    pub dotted: bool,
    /// Three in the time of two.
    pub triplet: bool,
}

impl NoteValue {
    /// A value without dot and triplet.
    pub const fn plain(base: Base) -> Self {
        Self { base, dotted: false, triplet: false }
    }

    /// How long it is.
    pub const fn length(self) -> Ticks {
        let plain = self.base.length().count();
        let dotted = if self.dotted { plain * 3 / 2 } else { plain };
        Ticks::new(if self.triplet { dotted * 2 / 3 } else { dotted })
    }

    /// In a player's words: `dotted quarter`.
    pub fn name(self) -> String {
        let dotted = if self.dotted { "dotted " } else { "" };
        let triplet = if self.triplet { " triplet" } else { "" };
        format!("{dotted}{}{triplet}", self.base.name())
    }

    fn all() -> impl Iterator<Item = Self> {
        let variants = [(true, false), (false, false), (false, true)];
        Base::ALL
            .into_iter()
            .flat_map(move |base| variants.map(|(dotted, triplet)| Self { base, dotted, triplet }))
    }

    /// The value that lasts so long.
    pub fn of(length: Ticks) -> Option<Self> {
        Self::all().find(|value| value.length() == length)
    }
}

/// A length in a player's words, or in quarter notes where no one note has it.
pub fn length_name(length: Ticks) -> String {
    match NoteValue::of(length) {
        Some(value) => value.name(),
        None => format!("{length} quarters"),
    }
}

/// The next longer length that a note without a triplet has.
pub fn longer(length: Ticks) -> Option<Ticks> {
    ladder().filter(|step| *step > length).min()
}

/// The next shorter one.
pub fn shorter(length: Ticks) -> Option<Ticks> {
    ladder().filter(|step| *step < length).max()
}

fn ladder() -> impl Iterator<Item = Ticks> {
    NoteValue::all().filter(|value| !value.triplet).map(NoteValue::length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_have_lengths_and_names() {
        let dotted = NoteValue { dotted: true, ..NoteValue::plain(Base::Quarter) };
        assert_eq!(dotted.length(), Ticks::new(Ticks::PER_QUARTER * 3 / 2));
        assert_eq!(length_name(dotted.length()), "dotted quarter");
        let triplet = NoteValue { triplet: true, ..NoteValue::plain(Base::Eighth) };
        assert_eq!(length_name(triplet.length()), "eighth triplet");
        assert_eq!(length_name(Ticks::QUARTER * 5), "5 quarters");
    }

    #[test]
    fn steps_of_length_go_up_and_down_alike() {
        let steps: Vec<Ticks> =
            std::iter::successors(Some(Base::Sixteenth.length()), |l| longer(*l)).collect();
        assert_eq!(steps.len(), 10);
        for pair in steps.windows(2) {
            assert_eq!(shorter(pair[1]), Some(pair[0]));
        }
    }
}
