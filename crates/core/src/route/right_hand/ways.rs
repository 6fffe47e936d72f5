//! How the strings of one moment can be struck.

use itertools::Itertools as _;

use super::{Plucks, Stroke};
use crate::hand::{Hand, RightFinger};
use crate::neck::StringIndex;

/// Every way to strike the strings, printed letters kept where that can be; one empty way where there is none.
///
/// The fingers run from bass to treble, one string each; only the thumb may brush neighbouring strings, the lowest
/// ones that are struck, be it all of them.
pub(super) fn ways(hand: &Hand, stroke: &Stroke) -> Vec<Plucks> {
    let mut ways = all(hand, stroke);
    let keeps = |way: &Plucks| stroke.printed.iter().all(|(string, f)| way.finger(*string) == Some(*f));
    if ways.iter().any(keeps) {
        ways.retain(keeps);
    }
    if ways.is_empty() { vec![Plucks::default()] } else { ways }
}

fn all(hand: &Hand, stroke: &Stroke) -> Vec<Plucks> {
    // From bass to treble, as the fingers run.
    let strings: Vec<StringIndex> = stroke.struck.iter().rev().collect();
    let busy = |finger: &RightFinger| match finger {
        RightFinger::Thumb => stroke.tapped,
        RightFinger::Index | RightFinger::Middle => stroke.touched,
        RightFinger::Ring | RightFinger::Little => false,
    };
    let able = RightFinger::ALL.into_iter().take(hand.plucks_at_once()).filter(|finger| !busy(finger));
    let digits: Vec<RightFinger> = able.collect();
    let plucked = digits.iter().copied().combinations(strings.len()).map(|fingers| with(&strings, fingers));
    let neighbours = |strings: &[StringIndex]| {
        strings.iter().tuple_windows().all(|(low, high)| low.index() == high.index() + 1)
    };
    let brushes = (2..=strings.len()).filter(|brushed| !stroke.tapped && neighbours(&strings[..*brushed]));
    let brushed = brushes.flat_map(|brushed| {
        let rest = digits[1..].iter().copied().combinations(strings.len() - brushed);
        rest.map(move |rest| std::iter::repeat_n(RightFinger::Thumb, brushed).chain(rest).collect::<Vec<_>>())
    });
    plucked.chain(brushed.map(|fingers| with(&strings, fingers))).collect()
}

fn with(strings: &[StringIndex], fingers: Vec<RightFinger>) -> Plucks {
    Plucks { fingers: strings.iter().copied().zip(fingers).collect() }
}
