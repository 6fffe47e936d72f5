//! Chance that is the same in every run.

/// A source of numbers (xorshift, Marsaglia 2003).
pub(super) struct Chance(u64);

impl Chance {
    /// The beginning of a draw, the same in every run. Beginnings lie as far apart as those of splittable sources
    /// (Steele, Lea and Flood 2014: the golden ratio in 64 bits).
    pub(super) const fn new(draw: u64) -> Self {
        Self(20_160 + draw.wrapping_mul(0x9E37_79B9_7F4A_7C15) % (1 << 63))
    }

    /// A number below `bound`.
    pub(super) const fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 16) % bound as u64) as usize
    }
}
