//! Musical time: exact, in whole ticks of a fixed resolution.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub, SubAssign};

/// A length or a point of musical time in whole ticks; a quarter note has [`Ticks::PER_QUARTER`].
///
/// Clock time is never stored: it follows from a [`Tempo`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Ticks(i64);

impl Ticks {
    /// Ticks in a quarter note: 2⁶ · 3² · 5 · 7, so that 256th notes, triplets of triplets, quintuplets and
    /// septuplets are whole.
    pub const PER_QUARTER: i64 = 20_160;
    /// Nothing, or the beginning of the tune.
    pub const ZERO: Self = Self(0);
    /// A quarter note.
    pub const QUARTER: Self = Self(Self::PER_QUARTER);

    /// So many ticks.
    pub const fn new(ticks: i64) -> Self {
        Self(ticks)
    }

    /// The number of ticks.
    pub const fn count(self) -> i64 {
        self.0
    }

    /// `count` parts of a quarter note cut into `parts`, or none where that is no whole number of ticks.
    pub fn from_quarter_parts(count: i64, parts: i64) -> Option<Self> {
        let all = count.checked_mul(Self::PER_QUARTER)?;
        (parts > 0 && all % parts == 0).then(|| Self(all / parts))
    }

    /// The length in quarter notes, for drawing only.
    pub fn quarters(self) -> f64 {
        self.0 as f64 / Self::PER_QUARTER as f64
    }
}

impl Add for Ticks {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Ticks {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Ticks {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Ticks {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Mul<i64> for Ticks {
    type Output = Self;

    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Sum for Ticks {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        Self(lengths.map(Self::count).sum())
    }
}

impl fmt::Debug for Ticks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Ticks({self})")
    }
}

/// Writes quarter notes: `2`, `1/3`, `3/2`.
impl fmt::Display for Ticks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let divisor = greatest_common_divisor(self.0.abs(), Self::PER_QUARTER);
        match Self::PER_QUARTER / divisor {
            1 => write!(f, "{}", self.0 / divisor),
            parts => write!(f, "{}/{parts}", self.0 / divisor),
        }
    }
}

const fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

/// A time signature: so many beats of a note value, 6/8 or 3/4.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Metre {
    beats: u8,
    unit: u8,
}

impl Metre {
    /// Four quarters.
    pub const COMMON: Self = Self { beats: 4, unit: 4 };

    /// A metre of 1 to 64 beats; the unit is a power of two from 1 to 64. None otherwise.
    pub fn try_new(beats: u8, unit: u8) -> Option<Self> {
        ((1..=64).contains(&beats) && unit.is_power_of_two() && unit <= 64).then_some(Self { beats, unit })
    }

    /// The upper number.
    pub const fn beats(self) -> u8 {
        self.beats
    }

    /// The lower number.
    pub const fn unit(self) -> u8 {
        self.unit
    }

    /// The length of a full bar.
    pub const fn bar(self) -> Ticks {
        Ticks(4 * Ticks::PER_QUARTER * self.beats as i64 / self.unit as i64)
    }

    /// Whether players count it in dotted beats: 6, 9 or 12 eighths or sixteenths.
    pub const fn is_compound(self) -> bool {
        self.unit >= 8 && self.beats > 3 && self.beats.is_multiple_of(3)
    }

    /// The length of what players count as one beat: a quarter in 3/4, a dotted quarter in 6/8.
    pub const fn beat(self) -> Ticks {
        let unit = 4 * Ticks::PER_QUARTER / self.unit as i64;
        Ticks(if self.is_compound() { 3 * unit } else { unit })
    }
}

/// Writes `3/4`.
impl fmt::Display for Metre {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.beats, self.unit)
    }
}

/// A speed in quarter notes a minute, 10 to 500.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Tempo(u16);

impl Tempo {
    /// The slowest tempo.
    pub const MIN: u16 = 10;
    /// The fastest tempo.
    pub const MAX: u16 = 500;
    /// A walking pace, for tunes that name none.
    pub const MODERATE: Self = Self(96);

    /// A tempo from data, or none outside its bounds.
    pub fn try_new(quarters_a_minute: u16) -> Option<Self> {
        (Self::MIN..=Self::MAX).contains(&quarters_a_minute).then_some(Self(quarters_a_minute))
    }

    /// Quarter notes a minute.
    pub const fn quarters_a_minute(self) -> u16 {
        self.0
    }

    /// How long a musical length lasts, in whole milliseconds, rounded down.
    pub const fn milliseconds(self, length: Ticks) -> i64 {
        length.count() * 60_000 / (Ticks::PER_QUARTER * self.0 as i64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tuplets_are_whole() {
        for parts in [1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 32, 64] {
            assert!(Ticks::from_quarter_parts(1, parts).is_some(), "{parts}");
        }
        assert_eq!(Ticks::from_quarter_parts(1, 11), None);
        assert_eq!(Ticks::from_quarter_parts(1, 0), None);
        assert_eq!(Ticks::from_quarter_parts(i64::MAX, 1), None);
    }

    #[test]
    fn writes_quarters() {
        assert_eq!(Ticks::new(Ticks::PER_QUARTER * 3 / 2).to_string(), "3/2");
        assert_eq!((Ticks::QUARTER * 2).to_string(), "2");
        assert_eq!(Ticks::ZERO.to_string(), "0");
    }

    #[test]
    fn compound_metres_count_dotted_beats() {
        let six_eight = Metre::try_new(6, 8).unwrap();
        assert_eq!(
            (six_eight.beat(), six_eight.bar()),
            (Ticks::QUARTER + Ticks::new(10_080), Ticks::QUARTER * 3)
        );
        assert_eq!(Metre::try_new(3, 8).unwrap().beat(), Ticks::new(10_080));
        assert_eq!(Metre::try_new(4, 3), None);
    }

    #[test]
    fn tempo_gives_clock_time() {
        assert_eq!(Tempo::try_new(120).unwrap().milliseconds(Ticks::QUARTER * 4), 2000);
        assert_eq!(Tempo::try_new(0), None);
    }
}
