//! Chance that is the same in every run.

/// A source of numbers (xorshift, Marsaglia 2003).
pub(super) struct Chance(u64);

impl Chance {
    /// The beginning of every run.
    pub(super) const fn new() -> Self {
        Self(20_160)
    }

    /// A number below `bound`.
    pub(super) const fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 16) % bound as u64) as usize
    }
}
