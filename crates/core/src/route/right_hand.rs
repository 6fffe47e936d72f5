//! The right hand: p i m a (c) for every stroke, exactly.
//!
//! At one moment the fingers run from bass to treble, one string each; only the thumb may brush neighbouring strings.
//! From stroke to stroke it costs to pluck twice with one finger at speed and to leave a finger's own string (the
//! rules of Dubey, Skarha and Taylor's integer program for right-hand fingerings; common practice).

use itertools::Itertools as _;

use crate::grip::StringSet;
use crate::hand::{Hand, RightFinger};
use crate::neck::StringIndex;

/// Plucking twice with one finger when strokes follow within this many milliseconds.
const FAST: i64 = 350;
/// The cost of it: for the thumb less, which is made for it.
const REPEATED: i64 = 12;
const REPEATED_THUMB: i64 = 5;
/// Each string by which a finger is away from its own.
const AWAY: i64 = 3;
/// The thumb on one of the three highest strings, each further one.
const THUMB_HIGH: i64 = 5;

/// A finger for every struck string of one moment.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Strokes {
    fingers: Vec<(StringIndex, RightFinger)>,
}

impl Strokes {
    /// The finger that plucks a string.
    pub fn finger(&self, string: StringIndex) -> Option<RightFinger> {
        self.fingers.iter().find(|(s, _)| *s == string).map(|(_, finger)| *finger)
    }
}

/// Fingers for every moment: the strings struck and the milliseconds since the moment before.
///
/// A stroke that no right hand can do (five strings or more whose lowest are no neighbours) gets none; `can_pluck`
/// tells beforehand.
pub fn right_hand(hand: &Hand, string_count: usize, moments: &[(StringSet, i64)]) -> Vec<Strokes> {
    let mut layers: Vec<Vec<(Strokes, i64, usize)>> = Vec::with_capacity(moments.len());
    for (struck, milliseconds) in moments {
        let before = layers.last();
        let layer = ways(hand, *struck).into_iter().map(|strokes| {
            let own = alone(&strokes, string_count);
            let (from, cost) = before.map_or((0, 0), |before| cheapest(before, &strokes, *milliseconds));
            (strokes, own + cost, from)
        });
        let layer = layer.collect();
        layers.push(layer);
    }
    let mut at =
        layers.last().map_or(0, |last| last.iter().position_min_by_key(|(_, cost, _)| *cost).unwrap_or(0));
    let mut all = Vec::with_capacity(moments.len());
    for layer in layers.iter().rev() {
        let (strokes, _, from) = &layer[at];
        all.push(strokes.clone());
        at = *from;
    }
    all.reverse();
    all
}

/// Whether a right hand can strike these strings at once.
pub fn can_pluck(hand: &Hand, struck: StringSet) -> bool {
    struck.is_empty() || ways(hand, struck).iter().any(|strokes| !strokes.fingers.is_empty())
}

/// The cheapest predecessor of a stroke.
fn cheapest(before: &[(Strokes, i64, usize)], strokes: &Strokes, milliseconds: i64) -> (usize, i64) {
    let costs = before.iter().map(|(old, cost, _)| cost + after(old, strokes, milliseconds));
    costs.enumerate().min_by_key(|(_, cost)| *cost).unwrap_or((0, 0))
}

/// Every way to strike the strings; one empty way where there is none.
fn ways(hand: &Hand, struck: StringSet) -> Vec<Strokes> {
    // From bass to treble, as the fingers run.
    let strings: Vec<StringIndex> = struck.iter().rev().collect();
    let digits = &RightFinger::ALL[..hand.plucks_at_once()];
    let brushed = strings.len().saturating_sub(digits.len());
    let neighbours =
        strings.iter().take(brushed + 1).tuple_windows().all(|(low, high)| low.index() == high.index() + 1);
    if brushed > 0 && !neighbours {
        return vec![Strokes::default()];
    }
    if brushed > 0 {
        let fingers = std::iter::repeat_n(RightFinger::Thumb, brushed).chain(digits.iter().copied());
        return vec![Strokes { fingers: strings.into_iter().zip(fingers).collect() }];
    }
    digits
        .iter()
        .copied()
        .combinations(strings.len())
        .map(|fingers| Strokes { fingers: strings.iter().copied().zip(fingers).collect() })
        .collect()
}

/// What a stroke costs by itself: fingers away from their strings.
fn alone(strokes: &Strokes, string_count: usize) -> i64 {
    let costs = strokes.fingers.iter().map(|(string, finger)| match finger {
        RightFinger::Thumb => {
            // Home are all strings but the three highest.
            THUMB_HIGH * (3 - string.index().min(3)) as i64
                + AWAY * i64::from(string_count <= 4 && string.index() < 2)
        }
        RightFinger::Index => AWAY * string.index().abs_diff(2) as i64,
        RightFinger::Middle => AWAY * string.index().abs_diff(1) as i64,
        RightFinger::Ring | RightFinger::Little => AWAY * string.index() as i64,
    });
    // A lone note goes to i or m rather than to a: they are the stronger pair.
    let lone_ring = strokes.fingers.len() == 1 && strokes.fingers[0].1 >= RightFinger::Ring;
    costs.sum::<i64>() + i64::from(lone_ring) * 2
}

/// What a stroke costs after another.
fn after(old: &Strokes, new: &Strokes, milliseconds: i64) -> i64 {
    if milliseconds >= FAST {
        return 0;
    }
    let again =
        new.fingers.iter().filter(|(_, finger)| old.fingers.iter().any(|(_, before)| before == finger));
    again.map(|(_, finger)| if *finger == RightFinger::Thumb { REPEATED_THUMB } else { REPEATED }).sum()
}
