//! What a pass makes smallest.

/// A bass that gives way weighs more than any effort and than all the hooks of a tune: parts of higher rank come first.
const BASS_LOST: i64 = 1_000_000_000;
/// Where the count of basses lost begins in the cost of a pass for the hardest move.
const LOSSES: u32 = 32;
/// Added to the hardest move, so that credits are no negative numbers.
const ABOVE_CREDITS: i64 = 1 << 20;

/// How the cost of a way grows: whole numbers, of which the smallest is looked for.
///
/// The cost of a way with one more moment never falls when the way before it or the move costs more. All bounds rest
/// on that.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Weighing {
    /// The sum of everything, where no move may cost more than `hardest`.
    Total {
        /// The most that a move may cost.
        hardest: i32,
    },
    /// How many basses are lost, and among routes that lose as many the hardest move.
    HardestMove,
}

impl Weighing {
    /// The sum of everything, moves of any cost.
    pub(super) const TOTAL: Self = Self::Total { hardest: i32::MAX };

    /// The cost of a way once a move is made; none where the move is dearer than allowed.
    #[inline]
    pub(super) const fn moved(self, so_far: i64, moved: i32) -> Option<i64> {
        match self {
            Self::Total { hardest } if moved > hardest => None,
            Self::Total { .. } => Some(so_far + moved as i64),
            Self::HardestMove => {
                let hardest = so_far & ((1 << LOSSES) - 1);
                let moved = moved as i64 + ABOVE_CREDITS;
                Some(if moved > hardest { so_far - hardest + moved } else { so_far })
            }
        }
    }

    /// What a grip adds by itself.
    pub(super) const fn own(self, cost: i64, bass_lost: bool) -> i64 {
        match (self, bass_lost) {
            (Self::Total { .. }, false) => cost,
            (Self::Total { .. }, true) => cost + BASS_LOST,
            (Self::HardestMove, false) => 0,
            (Self::HardestMove, true) => 1 << LOSSES,
        }
    }

    /// How much of the cost of a layer's cheapest state lies in the past: everything in a sum; nothing of the hardest
    /// move, which goes on to be compared.
    pub(super) const fn apart(self, cheapest: i64) -> i64 {
        match self {
            Self::Total { .. } => cheapest,
            Self::HardestMove => 0,
        }
    }

    /// Whether it matters which of several ways of one cost is taken. Of a pass for the hardest move nobody asks for
    /// the way.
    pub(super) const fn tells_ways_apart(self) -> bool {
        matches!(self, Self::Total { .. })
    }

    /// How many basses are lost in a sum of everything.
    pub(super) const fn basses_lost(total: i64) -> i64 {
        (total + BASS_LOST / 2).div_euclid(BASS_LOST)
    }

    /// The sum of everything, where no move is harder than the hardest of a way that [`Self::HardestMove`] weighed.
    pub(super) const fn no_harder_than(cost: i64) -> Self {
        Self::Total { hardest: ((cost & ((1 << LOSSES) - 1)) - ABOVE_CREDITS) as i32 }
    }
}
