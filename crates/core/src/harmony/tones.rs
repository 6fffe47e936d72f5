//! Sets of pitch classes.

use std::fmt;

use crate::pitch::PitchClass;

/// A set of pitch classes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct ToneSet(u16);

impl ToneSet {
    /// No class at all.
    pub const EMPTY: Self = Self(0);
    /// All twelve.
    pub const ALL: Self = Self(0xFFF);

    /// Puts a class in.
    pub const fn insert(&mut self, class: PitchClass) {
        self.0 |= 1 << class.number();
    }

    /// Takes a class out.
    pub const fn remove(&mut self, class: PitchClass) {
        self.0 &= !(1 << class.number());
    }

    /// Whether the class is in it.
    pub const fn contains(self, class: PitchClass) -> bool {
        self.0 & (1 << class.number()) != 0
    }

    /// Whether all of `other` is in it.
    pub const fn contains_all(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// How many classes it holds.
    pub const fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether it holds none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The classes in either.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// The classes in both.
    #[must_use]
    pub const fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// The classes, from C up.
    pub fn iter(self) -> impl Iterator<Item = PitchClass> {
        PitchClass::ALL.into_iter().filter(move |class| self.contains(*class))
    }
}

impl FromIterator<PitchClass> for ToneSet {
    fn from_iter<I: IntoIterator<Item = PitchClass>>(classes: I) -> Self {
        let mut set = Self::EMPTY;
        for class in classes {
            set.insert(class);
        }
        set
    }
}

impl fmt::Debug for ToneSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set().entries(self.iter()).finish()
    }
}
