//! What strains a hand although it can be done: a grip to be careful with.

use super::grip::Grip;
use super::reach::Reach;
use crate::hand::Finger;
use crate::neck::Fret;
use crate::neck::geometry::Micrometres;

/// A barre over as many strings is a long one (common practice, no source).
pub const LONG_BARRE: usize = 5;

/// Why a grip strains.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Caution {
    /// Two fingers are nearly as far apart as they reach.
    Stretch {
        /// The finger with the lower number.
        lower: Finger,
        /// The finger with the higher number.
        higher: Finger,
        /// How far apart they press.
        apart: Micrometres,
        /// How far this hand reaches with them.
        reach: Micrometres,
    },
    /// A finger presses many strings at once.
    LongBarre {
        /// The fret.
        fret: Fret,
        /// How many strings it lies over.
        strings: usize,
    },
}

/// What to be careful with in a grip: the stretch that goes farthest beyond what is wide, and a long barre.
///
/// Wide is what lies beyond the middle between comfortable and the farthest that two fingers reach (a choice of this project).
pub fn cautions(reach: &Reach, grip: &Grip) -> Vec<Caution> {
    let digits: Vec<_> = grip.digits().iter().collect();
    let pairs = digits.iter().enumerate().flat_map(|(index, lower)| {
        digits[index + 1..].iter().map(move |higher| (lower.0, higher.0, reach.apart(lower.1, higher.1)))
    });
    let beyond_wide = |(lower, higher, apart): &(Finger, Finger, Micrometres)| {
        let span = reach.span(*lower, *higher);
        *apart - span.comfortable - (span.practical - span.comfortable).percent(50)
    };
    let stretch = pairs
        .filter(|pair| beyond_wide(pair) > Micrometres::default())
        .max_by_key(beyond_wide)
        .map(|(lower, higher, apart)| Caution::Stretch {
            lower,
            higher,
            apart,
            reach: reach.span(lower, higher).practical,
        });
    let barre = digits.iter().find_map(|(_, fret, strings)| {
        let (high, low) = (strings.iter().next()?, strings.iter().next_back()?);
        let over = low.index() - high.index() + 1;
        (over >= LONG_BARRE).then_some(Caution::LongBarre { fret: *fret, strings: over })
    });
    stretch.into_iter().chain(barre).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grip::ways_to_hold;
    use crate::hand::{Hand, HandSize};
    use crate::neck::Instrument;

    fn cautions_of(size: HandSize, voicing: &str) -> Vec<Caution> {
        let reach = Reach::new(&Instrument::classical(), &Hand { size, ..Hand::default() });
        let ways = ways_to_hold(&reach, &voicing.parse().unwrap());
        cautions(&reach, &ways[0].0)
    }

    #[test]
    fn easy_grips_need_no_caution() {
        for voicing in ["x32010", "320003", "022100", "x02210", "000000"] {
            assert_eq!(cautions_of(HandSize::Medium, voicing), [], "{voicing}");
        }
    }

    #[test]
    fn wide_stretches_and_long_barres_do() {
        assert!(matches!(
            cautions_of(HandSize::Medium, "1-x-x-x-x-5")[..],
            [Caution::Stretch { lower: Finger::Index, higher: Finger::Little, .. }]
        ));
        assert_eq!(
            cautions_of(HandSize::Medium, "133211"),
            [Caution::LongBarre { fret: Fret::new(1), strings: 6 }]
        );
    }

    #[test]
    fn what_strains_a_medium_hand_may_be_easy_for_a_large_one() {
        assert_eq!(cautions_of(HandSize::Large, "1-x-x-x-x-5"), []);
    }
}
