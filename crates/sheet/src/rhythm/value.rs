//! Note values.

use handspan_core::time::Ticks;

/// A note value: a power of two of a whole note, with dots.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Value {
    /// 0 for a whole note, 1 for a half, 2 for a quarter, up to [`Self::SHORTEST`].
    pub power: u8,
    /// Dots, 0 to 2.
    pub dots: u8,
}

impl Value {
    /// The power of the shortest value written: a sixty-fourth.
    pub const SHORTEST: u8 = 6;

    /// How long it lasts.
    pub const fn length(self) -> Ticks {
        let plain = (4 * Ticks::PER_QUARTER) >> self.power;
        Ticks::new(plain * 2 - (plain >> self.dots))
    }

    fn all() -> impl Iterator<Item = Self> {
        (0..=Self::SHORTEST).flat_map(|power| (0..=2).rev().map(move |dots| Self { power, dots }))
    }

    /// The value of exactly this length, or none.
    pub fn exact(length: Ticks) -> Option<Self> {
        Self::all().find(|value| value.length() == length)
    }

    /// The longest value that fits into a length; the shortest one where none does.
    pub fn within(length: Ticks) -> Self {
        Self::all().find(|value| value.length() <= length).unwrap_or(Self { power: Self::SHORTEST, dots: 0 })
    }

    /// How many flags or beams it carries.
    pub const fn flags(self) -> u8 {
        self.power.saturating_sub(2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_and_values_agree() {
        let quarters = |count, parts| Ticks::from_quarter_parts(count, parts).unwrap();
        let value = |power, dots| Value { power, dots };
        assert_eq!(Value::exact(quarters(3, 2)), Some(value(2, 1)));
        assert_eq!(Value::exact(quarters(7, 4)), Some(value(2, 2)));
        assert_eq!(Value::exact(quarters(1, 4)), Some(value(4, 0)));
        assert_eq!(Value::exact(quarters(5, 2)), None);
        assert_eq!(Value::within(quarters(5, 2)), value(1, 0));
        for value in Value::all() {
            assert_eq!(Value::exact(value.length()), Some(value));
        }
    }
}
