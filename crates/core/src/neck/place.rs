//! Strings, frets and places.

use std::fmt;

/// The most strings an instrument can have.
pub const MAX_STRINGS: usize = 10;

/// A string, counted from the highest: index 0 is what players call the first string.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StringIndex(u8);

impl StringIndex {
    /// A string from a literal.
    ///
    /// # Panics
    /// From [`MAX_STRINGS`] on.
    pub const fn new(index: usize) -> Self {
        assert!(index < MAX_STRINGS, "an instrument has at most ten strings");
        Self(index as u8)
    }

    /// The string that players call by this number, counted from 1, or none.
    pub fn from_number(number: u8) -> Option<Self> {
        (1..=MAX_STRINGS as u8).contains(&number).then(|| Self(number - 1))
    }

    /// The index, 0 for the highest string.
    pub const fn index(self) -> usize {
        self.0 as usize
    }

    /// The number that players use, 1 for the highest string.
    pub const fn number(self) -> u8 {
        self.0 + 1
    }

    /// The strings of an instrument of `count` strings, highest first.
    pub fn all(count: usize) -> impl DoubleEndedIterator<Item = Self> + ExactSizeIterator {
        (0..count.min(MAX_STRINGS) as u8).map(Self)
    }
}

impl fmt::Debug for StringIndex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "StringIndex(string {self})")
    }
}

/// Writes the player's number.
impl fmt::Display for StringIndex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.number())
    }
}

/// A fret as counted from the capo, or from the nut where there is none; 0 is the open string.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fret(u8);

impl Fret {
    /// The open string.
    pub const OPEN: Self = Self(0);
    /// The highest fret of any instrument.
    pub const MAX: u8 = 24;

    /// A fret from a literal.
    ///
    /// # Panics
    /// Above [`Self::MAX`].
    pub const fn new(number: u8) -> Self {
        assert!(number <= Self::MAX, "a neck has at most 24 frets");
        Self(number)
    }

    /// A fret from data, or none above [`Self::MAX`].
    pub fn try_new(number: i32) -> Option<Self> {
        u8::try_from(number).ok().filter(|n| *n <= Self::MAX).map(Self)
    }

    /// The number of the fret.
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Whether the string is open.
    pub const fn is_open(self) -> bool {
        self.0 == 0
    }
}

impl fmt::Debug for Fret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Fret({self})")
    }
}

impl fmt::Display for Fret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// Some frets of a string, the open string among them or not.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct FretSet(u32);

impl FretSet {
    /// No fret.
    pub const EMPTY: Self = Self(0);
    /// Every fret there can be.
    pub const ALL: Self = Self((1 << (Fret::MAX + 1)) - 1);

    /// Puts a fret in.
    pub const fn insert(&mut self, fret: Fret) {
        self.0 |= 1 << fret.0;
    }

    /// Whether a fret is in it.
    pub const fn contains(self, fret: Fret) -> bool {
        self.0 & 1 << fret.0 != 0
    }

    /// Whether there is none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The frets in both.
    #[must_use]
    pub const fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// The frets, lowest first.
    pub fn each(self) -> impl Iterator<Item = Fret> {
        let mut left = self.0;
        std::iter::from_fn(move || {
            let next = Fret::try_new(left.trailing_zeros() as i32)?;
            left &= left - 1;
            Some(next)
        })
    }
}

impl FromIterator<Fret> for FretSet {
    fn from_iter<I: IntoIterator<Item = Fret>>(frets: I) -> Self {
        let mut set = Self::EMPTY;
        for fret in frets {
            set.insert(fret);
        }
        set
    }
}

/// A place on the neck: a string and a fret.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Place {
    /// The string.
    pub string: StringIndex,
    /// The fret.
    pub fret: Fret,
}

/// Writes `string 2, fret 5` or `string 2 open`.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.fret {
            Fret::OPEN => write!(f, "string {} open", self.string),
            fret => write!(f, "string {}, fret {fret}", self.string),
        }
    }
}
