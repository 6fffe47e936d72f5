//! The right hand: p i m a (c) for every stroke of a whole tune, exactly.
//!
//! `ways` says how strings can be struck at one moment, `cost` what it costs from moment to moment. A rule about
//! three strokes running looks two moments back, so the states of the search are pairs of neighbouring moments.

mod cost;
mod ways;

use crate::grip::StringSet;
use crate::hand::{Hand, RightFinger};
use crate::neck::StringIndex;

use cost::{after, alone, pattern};
use ways::ways;

/// What is struck at a moment.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stroke {
    /// The strings.
    pub struck: StringSet,
    /// The string of the bass, where one is struck: the thumb's own.
    pub bass: Option<StringIndex>,
    /// Whether an artificial harmonic is among it: i touches its string, and neither i nor m plucks.
    pub touched: bool,
    /// Whether the thumb taps meanwhile.
    pub tapped: bool,
    /// Letters that are printed; kept where any hand can keep them.
    pub printed: Vec<(StringIndex, RightFinger)>,
    /// The time since the moment before.
    pub milliseconds: i64,
}

/// A finger for every struck string of one moment.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Plucks {
    /// From the bass to the treble.
    fingers: Vec<(StringIndex, RightFinger)>,
}

impl Plucks {
    /// The finger that plucks a string.
    pub fn finger(&self, string: StringIndex) -> Option<RightFinger> {
        self.fingers.iter().find(|(s, _)| *s == string).map(|(_, finger)| *finger)
    }
}

/// The easiest fingers for every moment, over all that a right hand can do.
///
/// A stroke that no right hand can do (strings that are too many and too far apart for a brush) gets none;
/// [`can_pluck`] tells beforehand.
pub fn right_hand(hand: &Hand, string_count: usize, strokes: &[Stroke]) -> Vec<Plucks> {
    let choices: Vec<Choice> = strokes.iter().map(|stroke| Choice::of(hand, string_count, stroke)).collect();
    let mut layers: Vec<Pairs> = Vec::with_capacity(choices.len());
    for (index, here) in choices.iter().enumerate() {
        let pairs = match index.checked_sub(1) {
            None => Pairs::first(here),
            Some(last) => {
                Pairs::next(index.checked_sub(2).map(|i| &choices[i]), &choices[last], here, &layers[last])
            }
        };
        layers.push(pairs);
    }
    trace(&choices, &layers)
}

/// Whether a right hand can strike these strings at once.
pub fn can_pluck(hand: &Hand, struck: StringSet) -> bool {
    ways(hand, &Stroke { struck, ..Stroke::default() }).iter().all(|way| way.fingers.len() == struck.len())
}

/// Whether the thumb is free to tap while the fingers pluck what is struck.
pub fn can_tap(hand: &Hand, stroke: &Stroke) -> bool {
    let tapped = Stroke { tapped: true, ..stroke.clone() };
    ways(hand, &tapped).iter().all(|way| way.fingers.len() == stroke.struck.len())
}

/// The ways to play one moment, each with what it costs by itself.
struct Choice {
    ways: Vec<(Plucks, i64)>,
    milliseconds: i64,
}

impl Choice {
    fn of(hand: &Hand, string_count: usize, stroke: &Stroke) -> Self {
        let ways = ways(hand, stroke).into_iter().map(|way| {
            let cost = alone(&way, stroke.bass, string_count);
            (way, cost)
        });
        Self { ways: ways.collect(), milliseconds: stroke.milliseconds }
    }
}

/// The cheapest cost of every pair of a way at the moment before (row) and a way here (column), and the way two
/// moments before that it comes from.
struct Pairs {
    columns: usize,
    cheapest: Vec<(i64, usize)>,
}

impl Pairs {
    fn first(here: &Choice) -> Self {
        Self { columns: here.ways.len(), cheapest: here.ways.iter().map(|(_, cost)| (*cost, 0)).collect() }
    }

    fn next(earlier: Option<&Choice>, before: &Choice, here: &Choice, known: &Self) -> Self {
        let mut cheapest = Vec::with_capacity(before.ways.len() * here.ways.len());
        for (row, (old, _)) in before.ways.iter().enumerate() {
            for (new, own) in &here.ways {
                let step = own + after(old, new, here.milliseconds);
                let from = (0..known.rows()).map(|first| {
                    let so_far = known.cheapest[first * known.columns + row].0;
                    let three = earlier.filter(|_| before.milliseconds.max(here.milliseconds) < cost::FAST);
                    (so_far + three.map_or(0, |choice| pattern(&choice.ways[first].0, old, new)), first)
                });
                let (so_far, first) = from.min().unwrap_or_default();
                cheapest.push((so_far + step, first));
            }
        }
        Self { columns: here.ways.len(), cheapest }
    }

    const fn rows(&self) -> usize {
        self.cheapest.len() / self.columns
    }
}

/// Walks back from the cheapest last pair.
fn trace(choices: &[Choice], layers: &[Pairs]) -> Vec<Plucks> {
    let Some(last) = layers.last() else { return Vec::new() };
    let end = (0..last.cheapest.len()).min_by_key(|pair| (last.cheapest[*pair].0, *pair)).unwrap_or(0);
    let (mut row, mut column) = (end / last.columns, end % last.columns);
    let mut all = Vec::with_capacity(choices.len());
    for (choice, pairs) in choices.iter().zip(layers).rev() {
        all.push(choice.ways[column].0.clone());
        let from = pairs.cheapest[row * pairs.columns + column].1;
        (row, column) = (from, row);
    }
    all.reverse();
    all
}

#[cfg(test)]
mod tests;
