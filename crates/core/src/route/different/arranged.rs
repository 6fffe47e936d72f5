//! Different routes through a tune.

use std::ops::Range;

use super::field::{Ended, Field};
use super::{Way, different};
use crate::demand::Demand;
use crate::grip::Reach;
use crate::plan::Aim;
use crate::route::known::Known;
use crate::route::layer::{Key, State};
use crate::route::search::{Impasse, Route, advance, easiest, step};
use crate::route::weighing::Weighing;
use crate::watch::{Unwatched, Watch};

/// The best route through all demands, and after it the best of those that are really different.
///
/// Each has at most [`super::MOST_OVERLAP`] of a hundred grips within `within` in common with every one before it.
/// `count` at most; fewer where there are no more or where the watch stopped the search. A route that is not proven is
/// different enough, but perhaps not the best such.
///
/// # Errors
/// Where locks leave nothing that a hand can hold.
pub fn different_routes(
    reach: &Reach,
    demands: &[Demand],
    within: Range<usize>,
    aim: Aim,
    count: usize,
    watch: &dyn Watch,
) -> Result<Vec<Route>, Impasse> {
    let mut tune = Arranged { demands, within, known: Known::new(reach) };
    match different(&mut tune, aim, count, watch) {
        Ok(ways) => Ok(ways.iter().map(|way| tune.route(way)).collect()),
        Err(Ended::Stopped) => easiest(reach, demands, aim, watch).map(|hurried| vec![hurried]),
        Err(Ended::Impasse(demand)) => Err(Impasse { demand }),
    }
}

struct Arranged<'a> {
    demands: &'a [Demand],
    /// The moments that count.
    within: Range<usize>,
    known: Known,
}

impl Field for Arranged<'_> {
    fn start(&self) -> Key {
        Key::NOTHING
    }

    fn moments(&self) -> usize {
        self.demands.len()
    }

    fn counts(&self, moment: usize) -> bool {
        self.within.contains(&moment)
    }

    fn advance(&mut self, weighing: Weighing, moment: usize, before: &[State]) -> Vec<State> {
        advance(&mut self.known, weighing, before, (&self.demands[moment], None), &Unwatched)
    }

    fn moved(&mut self, moment: usize, from: &Key, to: &Key) -> i32 {
        self.known.moved(self.demands[moment].milliseconds, from, to)
    }
}

impl Arranged<'_> {
    fn route(&mut self, way: &Way) -> Route {
        let moves = way.keys.iter().zip(way.keys.iter().skip(1));
        let steps = self.demands.iter().zip(moves);
        let steps = steps.map(|(demand, (from, to))| step(&mut self.known, demand, from, to)).collect();
        Route { steps, cost: way.cost, proven: way.proven }
    }
}
