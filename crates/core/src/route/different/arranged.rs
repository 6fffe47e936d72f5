//! Different routes through a tune.

use std::ops::Range;

use super::field::{Ended, Field};
use super::{Way, different};
use crate::demand::Demand;
use crate::grip::Reach;
use crate::route::candidates::Strokes;
use crate::route::layer::{Key, State};
use crate::route::search::{Impasse, Route, advance, easiest, step};
use crate::watch::Watch;

/// The easiest route through all demands, and after it the easiest of those that are really different.
///
/// Each has at most [`super::MOST_OVERLAP`] of a hundred grips within `within` in common with every one before it.
/// `count` at most; fewer where there are no more or where the watch stopped the search. A route that is not proven is
/// different enough, but perhaps not the easiest such.
///
/// # Errors
/// Where locks leave nothing that a hand can hold.
pub fn different_routes(
    reach: &Reach,
    demands: &[Demand],
    within: Range<usize>,
    count: usize,
    watch: &dyn Watch,
) -> Result<Vec<Route>, Impasse> {
    let mut tune = Arranged { reach, demands, within, strokes: Strokes::new(reach) };
    match different(&mut tune, count, watch) {
        Ok(ways) => Ok(ways.iter().map(|way| tune.route(way)).collect()),
        Err(Ended::Stopped) => easiest(reach, demands, watch).map(|hurried| vec![hurried]),
        Err(Ended::Impasse(demand)) => Err(Impasse { demand }),
    }
}

struct Arranged<'a> {
    reach: &'a Reach,
    demands: &'a [Demand],
    /// The moments that count.
    within: Range<usize>,
    strokes: Strokes<'a>,
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

    fn advance(&mut self, moment: usize, before: &[State]) -> Vec<State> {
        advance(self.reach, &mut self.strokes, before, &self.demands[moment])
    }
}

impl Arranged<'_> {
    fn route(&self, way: &Way) -> Route {
        let states: Vec<State> = way.keys.iter().copied().map(State::at).collect();
        let moves = states.iter().zip(states.iter().skip(1));
        let steps = self.demands.iter().zip(moves);
        let steps = steps.map(|(demand, (from, to))| step(self.reach, demand, from, to)).collect();
        Route { steps, cost: way.cost, proven: way.proven }
    }
}
