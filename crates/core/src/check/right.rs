//! The rules of the right hand, over the strings struck together.

use thiserror::Error;

use crate::arrangement::ScoreNote;
use crate::grip::StringSet;
use crate::hand::{Hand, RightFinger};
use crate::neck::{StringIndex, Touch};

/// A rule of the right hand that a stroke breaks.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Error)]
pub enum StrokeFault {
    /// A struck string without a finger.
    #[error("no right-hand finger strikes string {0}")]
    NoFinger(StringIndex),
    /// c, where the player does not use it.
    #[error("the little finger (c) strikes string {0}, and this hand does not pluck with it")]
    LittleNotUsed(StringIndex),
    /// i, m, a or c on two strings at once.
    #[error("{finger} strikes strings {highest} and {lowest} at once")]
    TwoStrings {
        /// The finger.
        finger: RightFinger,
        /// The highest string it strikes.
        highest: StringIndex,
        /// The lowest.
        lowest: StringIndex,
    },
    /// The thumb brushes over a string that it does not strike.
    #[error("the brush of p from string {lowest} to string {highest} misses a string between them")]
    BrokenBrush {
        /// The highest string of the brush.
        highest: StringIndex,
        /// The lowest.
        lowest: StringIndex,
    },
    /// The letters do not run p i m a c from bass to treble.
    #[error(
        "{bass} on string {bass_string} lies below {treble} on string {treble_string}: p i m a run from bass to treble"
    )]
    Crossed {
        /// The finger on the lower string.
        bass: RightFinger,
        /// Its string.
        bass_string: StringIndex,
        /// The finger on the higher string.
        treble: RightFinger,
        /// Its string.
        treble_string: StringIndex,
    },
    /// Two strings that the right hand should touch at once.
    #[error("artificial harmonics on strings {highest} and {lowest} at once: i touches one string")]
    TwoTouched {
        /// The highest string.
        highest: StringIndex,
        /// The lowest.
        lowest: StringIndex,
    },
    /// i or m, while i touches for an artificial harmonic.
    #[error("{finger} strikes string {string} while i touches string {touched} for its harmonic")]
    Touching {
        /// The finger.
        finger: RightFinger,
        /// The string it strikes.
        string: StringIndex,
        /// The string that i touches.
        touched: StringIndex,
    },
    /// More strings than fingers, without a brush.
    #[error("{strings} strings are struck at once without a brush, and this hand plucks {limit}")]
    TooMany {
        /// How many.
        strings: usize,
        /// How many this hand plucks.
        limit: usize,
    },
}

/// Every rule that one stroke breaks.
pub(super) fn judge(hand: &Hand, struck: &[ScoreNote]) -> Vec<StrokeFault> {
    let mut faults = Vec::new();
    let unnamed = struck.iter().filter(|n| n.pluck.is_none());
    faults.extend(unnamed.map(|n| StrokeFault::NoFinger(n.place.string)));
    let mut brushes = false;
    for finger in RightFinger::ALL {
        let strings = strings_of(struck, finger);
        let (Some(highest), Some(lowest)) = (strings.iter().next(), strings.iter().next_back()) else {
            continue;
        };
        if finger == RightFinger::Little && !hand.little_plucks {
            faults.push(StrokeFault::LittleNotUsed(highest));
        }
        if strings.len() == 1 {
            continue;
        }
        if finger != RightFinger::Thumb {
            faults.push(StrokeFault::TwoStrings { finger, highest, lowest });
        } else if strings.len() <= lowest.index() - highest.index() {
            faults.push(StrokeFault::BrokenBrush { highest, lowest });
        }
        brushes |= finger == RightFinger::Thumb;
    }
    faults.extend(touching(struck));
    faults.extend(crossing(struck));
    let limit = hand.plucks_at_once();
    if struck.len() > limit && !brushes {
        faults.push(StrokeFault::TooMany { strings: struck.len(), limit });
    }
    faults
}

fn strings_of(struck: &[ScoreNote], finger: RightFinger) -> StringSet {
    let mine = struck.iter().filter(|n| n.pluck == Some(finger));
    mine.map(|n| n.place.string).collect()
}

/// What is wrong with what i touches for artificial harmonics: one string, and it strikes none meanwhile, nor does m,
/// which bends along with it.
fn touching(struck: &[ScoreNote]) -> Vec<StrokeFault> {
    let touched: StringSet =
        struck.iter().filter(|n| n.touch == Touch::Artificial).map(|n| n.place.string).collect();
    let (Some(highest), Some(lowest)) = (touched.iter().next(), touched.iter().next_back()) else {
        return Vec::new();
    };
    let two = (highest != lowest).then_some(StrokeFault::TwoTouched { highest, lowest });
    let busy = struck.iter().filter_map(|n| {
        let finger = n.pluck.filter(|f| matches!(f, RightFinger::Index | RightFinger::Middle))?;
        Some(StrokeFault::Touching { finger, string: n.place.string, touched: highest })
    });
    two.into_iter().chain(busy).collect()
}

/// The first pair of neighbours, from the bass up, whose letters run backwards.
fn crossing(struck: &[ScoreNote]) -> Option<StrokeFault> {
    let mut fingers: Vec<(StringIndex, RightFinger)> =
        struck.iter().filter_map(|n| Some((n.place.string, n.pluck?))).collect();
    fingers.sort_unstable_by(|a, b| b.cmp(a));
    let crossed = fingers.windows(2).find(|pair| pair[0].0 != pair[1].0 && pair[0].1 > pair[1].1)?;
    Some(StrokeFault::Crossed {
        bass: crossed[0].1,
        bass_string: crossed[0].0,
        treble: crossed[1].1,
        treble_string: crossed[1].0,
    })
}
