//! A grip: a voicing together with the fingers that hold it.

use std::fmt;

use super::voicing::Voicing;
use crate::hand::Finger;
use crate::neck::{Fret, MAX_STRINGS, Place, StringIndex};

/// How one string sounds in a grip.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Hold {
    /// The fret.
    pub fret: Fret,
    /// The finger that stops it; none on an open string.
    pub finger: Option<Finger>,
}

impl Hold {
    /// An open string.
    pub const OPEN: Self = Self { fret: Fret::OPEN, finger: None };

    /// A string stopped at a fret by a finger.
    pub const fn stopped(fret: Fret, finger: Finger) -> Self {
        Self { fret, finger: Some(finger) }
    }
}

/// What every string does: silent, or sounding at a fret under a finger. Small enough to copy.
///
/// A grip says nothing of whether a hand can hold it; `grip::fingering` makes only those that one can, and
/// [`crate::check`] judges any.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Grip {
    /// A byte a string, so that searches copy and compare grips fast: 0 is silent, otherwise fret and digit.
    strings: [u8; MAX_STRINGS],
}

/// Digits that a string can be held by: none (open) or one of five.
const DIGITS: u8 = 6;

const fn pack(hold: Option<Hold>) -> u8 {
    match hold {
        None => 0,
        Some(Hold { fret, finger: None }) => 1 + fret.number() * DIGITS,
        Some(Hold { fret, finger: Some(finger) }) => 2 + fret.number() * DIGITS + finger as u8,
    }
}

const fn unpack(byte: u8) -> Option<Hold> {
    if byte == 0 {
        return None;
    }
    let fret = Fret::new((byte - 1) / DIGITS);
    let finger = match (byte - 1) % DIGITS {
        0 => None,
        1 => Some(Finger::Thumb),
        2 => Some(Finger::Index),
        3 => Some(Finger::Middle),
        4 => Some(Finger::Ring),
        _ => Some(Finger::Little),
    };
    Some(Hold { fret, finger })
}

/// The highest byte that a string can have.
const LAST: usize = pack(Some(Hold::stopped(Fret::new(Fret::MAX), Finger::Little))) as usize;

/// What every byte means, worked out once: searches ask millions of times.
const UNPACKED: [Option<Hold>; LAST + 1] = {
    let mut unpacked = [None; LAST + 1];
    let mut byte = 1;
    while byte <= LAST {
        unpacked[byte] = unpack(byte as u8);
        byte += 1;
    }
    unpacked
};

impl Grip {
    /// Every string silent.
    pub const SILENT: Self = Self { strings: [0; MAX_STRINGS] };

    /// The grip of these strings; the last one given wins where a string stands twice.
    pub fn from_holds(holds: impl IntoIterator<Item = (StringIndex, Hold)>) -> Self {
        let mut grip = Self::SILENT;
        for (string, hold) in holds {
            grip.set(string, Some(hold));
        }
        grip
    }

    /// How a string sounds, none where it is silent.
    pub const fn hold(&self, string: StringIndex) -> Option<Hold> {
        UNPACKED[self.strings[string.index()] as usize]
    }

    /// Changes one string.
    pub const fn set(&mut self, string: StringIndex, hold: Option<Hold>) {
        self.strings[string.index()] = pack(hold);
    }

    /// The sounding strings, highest first.
    pub fn holds(&self) -> impl DoubleEndedIterator<Item = (StringIndex, Hold)> + '_ {
        let strings = StringIndex::all(MAX_STRINGS);
        strings.filter_map(|string| Some((string, self.hold(string)?)))
    }

    /// The stopped strings with their fret and finger, highest string first.
    pub fn stopped(&self) -> impl DoubleEndedIterator<Item = (Place, Finger)> + '_ {
        self.holds().filter_map(|(string, hold)| Some((Place { string, fret: hold.fret }, hold.finger?)))
    }

    /// The sounding strings as a set.
    pub fn strings(&self) -> StringSet {
        self.holds().map(|(string, _)| string).collect()
    }

    /// How many strings sound.
    pub fn len(&self) -> usize {
        self.strings.iter().filter(|byte| **byte != 0).count()
    }

    /// Whether every string is silent.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The grip without its fingers.
    pub fn voicing(&self) -> Voicing {
        self.holds().map(|(string, hold)| (string, hold.fret)).collect()
    }

    /// Only these strings of the grip.
    #[must_use]
    pub fn only(&self, strings: StringSet) -> Self {
        Self::from_holds(self.holds().filter(|(string, _)| strings.contains(*string)))
    }

    /// Both grips together; where a string sounds in both, `other` wins.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self::from_holds(self.holds().chain(other.holds()))
    }

    /// Where the hand stands: the fret of the index finger when every finger has a fret of its own. None where no
    /// finger stops a string.
    pub fn position(&self) -> Option<Fret> {
        let fingers = self.stopped().filter(|(_, finger)| *finger != Finger::Thumb);
        let frets = fingers.map(|(place, finger)| place.fret.number().saturating_sub(finger.number() - 1));
        frets.min().map(|lowest| Fret::new(lowest.max(1)))
    }

    /// Where every digit stands.
    pub fn digits(&self) -> Digits {
        let mut digits = Digits::default();
        for (place, finger) in self.stopped() {
            let standing = digits.standing[finger as usize].get_or_insert((place.fret, StringSet::EMPTY));
            standing.1.insert(place.string);
        }
        digits
    }

    /// The strings as a number, to sort and compare by.
    pub fn packed(&self) -> u128 {
        let mut bytes = [0; size_of::<u128>()];
        bytes[size_of::<u128>() - MAX_STRINGS..].copy_from_slice(&self.strings);
        u128::from_be_bytes(bytes)
    }
}

/// Where every digit of the left hand stands in a grip: its fret and the strings it holds; a barre holds several.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Digits {
    standing: [Option<(Fret, StringSet)>; 5],
}

impl Digits {
    /// Where one digit stands.
    pub const fn of(&self, finger: Finger) -> Option<(Fret, StringSet)> {
        self.standing[finger as usize]
    }

    /// The digits in use with their fret and strings, the thumb first, then from finger 1 on.
    pub fn iter(&self) -> impl Iterator<Item = (Finger, Fret, StringSet)> + '_ {
        let thumb_and_four = [Finger::Thumb].into_iter().chain(Finger::FOUR);
        thumb_and_four.filter_map(|finger| self.of(finger).map(|(fret, strings)| (finger, fret, strings)))
    }
}

impl fmt::Debug for Grip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Grip(")?;
        let count = self.holds().map(|(s, _)| s.index() + 1).max().unwrap_or(0);
        for string in StringIndex::all(count.max(6)).rev() {
            match self.hold(string) {
                None => write!(f, " x")?,
                Some(Hold { fret, finger: None }) => write!(f, " {fret}")?,
                Some(Hold { fret, finger: Some(finger) }) => write!(f, " {fret}/{finger}")?,
            }
        }
        write!(f, " )")
    }
}

/// A set of strings.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct StringSet(u16);

impl StringSet {
    /// No string.
    pub const EMPTY: Self = Self(0);

    /// Every string there can be.
    pub const ALL: Self = Self((1 << MAX_STRINGS) - 1);

    /// Whether a string is in it.
    pub const fn contains(self, string: StringIndex) -> bool {
        self.0 & (1 << string.index()) != 0
    }

    /// Puts a string in.
    pub const fn insert(&mut self, string: StringIndex) {
        self.0 |= 1 << string.index();
    }

    /// Takes a string out.
    pub const fn remove(&mut self, string: StringIndex) {
        self.0 &= !(1 << string.index());
    }

    /// How many strings it holds.
    pub const fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether it holds none.
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The strings in either.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// The strings in both.
    #[must_use]
    pub const fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// The strings that are not in `other`.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// The strings, highest first.
    pub fn iter(self) -> impl DoubleEndedIterator<Item = StringIndex> {
        StringIndex::all(MAX_STRINGS).filter(move |string| self.contains(*string))
    }
}

impl FromIterator<StringIndex> for StringSet {
    fn from_iter<I: IntoIterator<Item = StringIndex>>(strings: I) -> Self {
        let mut set = Self::EMPTY;
        for string in strings {
            set.insert(string);
        }
        set
    }
}

impl fmt::Debug for StringSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_set().entries(self.iter().map(StringIndex::number)).finish()
    }
}
