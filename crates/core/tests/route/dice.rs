//! Chance that is the same on every machine and in every run.

/// A small generator (`SplitMix64`: Steele, Lea and Flood, "Fast Splittable Pseudorandom Number Generators", 2014;
/// constants from memory). Good enough to vary cases; nothing rests on its quality.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from `low` to `high`, both included.
    pub(crate) const fn from(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low + 1) as u64) as i64
    }

    /// True so many times in a hundred.
    pub(crate) const fn percent(&mut self, percent: i64) -> bool {
        self.from(1, 100) <= percent
    }

    /// One of them.
    ///
    /// # Panics
    /// Where there is none.
    pub(crate) fn pick<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.from(0, all.len() as i64 - 1) as usize]
    }
}
