//! The digits of both hands.

use std::fmt;

/// A digit of the left hand, as fingerings write it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Finger {
    /// T: over the edge of the neck, on the lowest string only.
    Thumb,
    /// 1
    Index,
    /// 2
    Middle,
    /// 3
    Ring,
    /// 4
    Little,
}

impl Finger {
    /// Every digit, the thumb first.
    pub const ALL: [Self; 5] = [Self::Thumb, Self::Index, Self::Middle, Self::Ring, Self::Little];

    /// The four fingers, index first.
    pub const FOUR: [Self; 4] = [Self::Index, Self::Middle, Self::Ring, Self::Little];

    /// 1 for the index finger to 4 for the little one; 0 for the thumb, which has no number.
    pub const fn number(self) -> u8 {
        self as u8
    }

    /// The finger that carries a number from 1 to 4.
    pub fn from_number(number: u8) -> Option<Self> {
        Self::FOUR.into_iter().find(|f| f.number() == number)
    }

    /// The digit as printed.
    pub const fn letter(self) -> char {
        ['T', '1', '2', '3', '4'][self as usize]
    }
}

impl fmt::Display for Finger {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.letter())
    }
}

/// Some digits of the left hand.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct FingerSet(u8);

impl FingerSet {
    /// Every digit.
    pub const ALL: Self = Self(0b1_1111);

    /// Puts a digit in.
    pub const fn insert(&mut self, finger: Finger) {
        self.0 |= 1 << finger as u8;
    }

    /// Takes a digit out.
    pub const fn remove(&mut self, finger: Finger) {
        self.0 &= !(1 << finger as u8);
    }

    /// Whether a digit is in it.
    pub const fn contains(self, finger: Finger) -> bool {
        self.0 & 1 << finger as u8 != 0
    }

    /// Whether there is none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The digits in both.
    #[must_use]
    pub const fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// The digits, the thumb first.
    pub fn each(self) -> impl Iterator<Item = Finger> {
        let mut left = self.0;
        std::iter::from_fn(move || {
            let next = *Finger::ALL.get(left.trailing_zeros() as usize)?;
            left &= left - 1;
            Some(next)
        })
    }
}

impl FromIterator<Finger> for FingerSet {
    fn from_iter<I: IntoIterator<Item = Finger>>(fingers: I) -> Self {
        let mut set = Self::default();
        for finger in fingers {
            set.insert(finger);
        }
        set
    }
}

/// A digit of the right hand, from bass to treble.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum RightFinger {
    /// p, the thumb.
    Thumb,
    /// i
    Index,
    /// m
    Middle,
    /// a
    Ring,
    /// c
    Little,
}

impl RightFinger {
    /// All five, from bass to treble.
    pub const ALL: [Self; 5] = [Self::Thumb, Self::Index, Self::Middle, Self::Ring, Self::Little];

    /// The letter as printed: p i m a c.
    pub const fn letter(self) -> char {
        ['p', 'i', 'm', 'a', 'c'][self as usize]
    }

    /// The digit that a letter names, in either case.
    pub fn from_letter(letter: char) -> Option<Self> {
        Self::ALL.into_iter().find(|f| f.letter() == letter.to_ascii_lowercase())
    }
}

impl fmt::Display for RightFinger {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.letter())
    }
}
