//! A grip: a voicing together with the fingers that hold it.

use std::fmt;

use super::hold::{Hold, Parts};
use super::voicing::Voicing;
use crate::hand::Finger;
use crate::neck::{Fret, Instrument, MAX_STRINGS, Place, StringIndex, Touch};
use crate::pitch::Pitch;

/// What every string does: silent, or sounding at a fret under a finger. Small enough to copy.
///
/// A grip says nothing of whether a hand can hold it; `grip::fingering` makes only those that one can, and
/// [`crate::check`] judges any.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Grip {
    strings: [Option<Hold>; MAX_STRINGS],
}

impl Grip {
    /// Every string silent.
    pub const SILENT: Self = Self { strings: [None; MAX_STRINGS] };

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
        self.strings[string.index()]
    }

    /// The fret at which a finger stands on a string, and which one; none where none does.
    #[inline]
    pub(super) fn stop(&self, string: StringIndex) -> Option<(Fret, Finger)> {
        let parts = self.hold(string)?.parts();
        Some((parts.fret, parts.finger?))
    }

    /// Changes one string.
    pub const fn set(&mut self, string: StringIndex, hold: Option<Hold>) {
        self.strings[string.index()] = hold;
    }

    /// The sounding strings, highest first.
    pub fn holds(&self) -> impl DoubleEndedIterator<Item = (StringIndex, Hold)> + '_ {
        let strings = StringIndex::all(MAX_STRINGS);
        strings.filter_map(|string| Some((string, self.hold(string)?)))
    }

    /// The strings under fingers with fret and finger, highest string first.
    pub fn stopped(&self) -> impl DoubleEndedIterator<Item = (Place, Finger)> + '_ {
        StringIndex::all(MAX_STRINGS).filter_map(|string| {
            let (fret, finger) = self.stop(string)?;
            Some((Place { string, fret }, finger))
        })
    }

    /// The sounding strings as a set.
    pub fn strings(&self) -> StringSet {
        let bits = self.strings.iter().enumerate().map(|(index, hold)| u16::from(hold.is_some()) << index);
        StringSet(bits.fold(0, |all, bit| all | bit))
    }

    /// How many strings sound.
    pub fn len(&self) -> usize {
        self.strings.iter().flatten().count()
    }

    /// Whether every string is silent.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The grip without its fingers.
    pub fn voicing(&self) -> Voicing {
        self.holds().map(|(string, hold)| (string, hold.fret())).collect()
    }

    /// What sounds, from the highest string to the lowest.
    pub fn pitches<'a>(&'a self, instrument: &'a Instrument) -> impl Iterator<Item = Pitch> + 'a {
        self.holds().filter_map(|(string, hold)| hold.sounds(instrument, string))
    }

    /// The same once everything sounds: natural harmonics ring without their fingers.
    #[must_use]
    pub fn ringing(&self) -> Self {
        Self::from_holds(self.holds().map(|(string, hold)| (string, hold.struck())))
    }

    /// Only these strings of the grip.
    #[must_use]
    pub fn only(&self, strings: StringSet) -> Self {
        let mut part = Self::SILENT;
        for string in strings.each() {
            part.strings[string.index()] = self.strings[string.index()];
        }
        part
    }

    /// Both grips together; where a string sounds in both, `other` wins.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        let mut both = *other;
        for (mine, other) in self.strings.iter().zip(&mut both.strings) {
            *other = other.or(*mine);
        }
        both
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
        for (byte, hold) in bytes[size_of::<u128>() - MAX_STRINGS..].iter_mut().zip(self.strings) {
            *byte = hold.map_or(0, Hold::packed);
        }
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
                Some(hold) => {
                    let Parts { fret, finger, touch } = hold.parts();
                    match touch {
                        Touch::Plain => write!(f, " {fret}")?,
                        Touch::Natural => write!(f, " <{fret}>")?,
                        Touch::Artificial => write!(f, " {fret}<{}>", fret.number() + 12)?,
                    }
                    finger.map_or(Ok(()), |finger| write!(f, "/{finger}"))?;
                }
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

    /// The set as a number: a bit a string.
    pub(super) const fn bits(self) -> u16 {
        self.0
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

    /// Whether a string of one is a string of the other or its neighbour.
    pub const fn touches(self, other: Self) -> bool {
        (self.0 << 1 | self.0 | self.0 >> 1) & other.0 != 0
    }

    /// The highest string in it, and the lowest; none where it is empty.
    pub fn outer(self) -> Option<(StringIndex, StringIndex)> {
        let highest = StringIndex::from_number(self.0.trailing_zeros() as u8 + 1)?;
        let lowest = StringIndex::from_number((u16::BITS - self.0.leading_zeros()) as u8)?;
        Some((highest, lowest))
    }

    /// The strings of it that are higher than one.
    #[must_use]
    pub const fn above(self, string: StringIndex) -> Self {
        Self(self.0 & ((1 << string.index()) - 1))
    }

    /// The strings, highest first; from the front only, and faster than [`Self::iter`].
    pub fn each(self) -> impl Iterator<Item = StringIndex> {
        let mut left = self.0;
        std::iter::from_fn(move || {
            let next = StringIndex::from_number(left.trailing_zeros() as u8 + 1)?;
            left &= left - 1;
            Some(next)
        })
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
