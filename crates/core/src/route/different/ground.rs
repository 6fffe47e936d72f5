//! The graph in which different routes are looked for, as wide as they need it.

use super::Way;
use super::field::{Ended, Field};
use super::graph::{Graph, Passed};
use super::labels::{self, Best};
use super::limits::Limits;
use super::prices::{self, Ascent};
use crate::route::weighing::Weighing;
use crate::watch::Watch;

/// How much dearer than the easiest a route may be that is looked for first.
const SLACK: i64 = 100;

/// A field under one weighing of the total.
pub(super) struct Ground {
    weighing: Weighing,
    passed: Passed,
    graph: Option<Graph>,
}

impl Ground {
    /// Nothing laid out yet.
    pub(super) fn new(field: &mut impl Field, weighing: Weighing, watch: &dyn Watch) -> Result<Self, Ended> {
        Ok(Self { weighing, passed: Passed::new(field, weighing, watch)?, graph: None })
    }

    /// The easiest way of all.
    pub(super) fn easiest(&self) -> Way {
        self.passed.easiest()
    }

    /// The cheapest way that is different enough from all before, if there is any.
    ///
    /// Every way that costs no more than the easiest and the slack together lies in the graph. A dearer one that is
    /// found says how much slack is enough.
    pub(super) fn next(
        &mut self,
        field: &mut impl Field,
        ways: &[Way],
        watch: &dyn Watch,
    ) -> Result<Option<Way>, Ended> {
        let mut slack = SLACK;
        loop {
            let graph = match self.graph.take() {
                Some(wide_enough) if wide_enough.slack() >= slack => wide_enough,
                _ => Graph::new(field, self.weighing, &self.passed, slack, watch)?,
            };
            let best = best_within(&graph, &Limits::new(field, &graph, ways), watch);
            let everything = graph.slack() == i64::MAX;
            let certain = self.passed.least().saturating_add(graph.slack());
            self.graph = Some(graph);
            slack = match best {
                Best::Way(way) if !way.proven || way.cost <= certain => return Ok(Some(way)),
                Best::Way(way) => way.cost - self.passed.least(),
                Best::None if everything => return Ok(None),
                Best::None => i64::MAX,
                Best::GivenUp => return Err(Ended::Stopped),
            };
        }
    }
}

/// The cheapest way through a graph that keeps the limits.
fn best_within(graph: &Graph, limits: &Limits, watch: &dyn Watch) -> Best {
    if limits.are_hopeless(graph) {
        return Best::None;
    }
    let Ascent { bound, cheapest } = prices::ascend(graph, limits);
    if let Some(way) = cheapest.as_ref().filter(|way| way.cost <= bound.least) {
        return Best::Way(way.clone());
    }
    let most = cheapest.as_ref().map_or(i64::MAX, |way| way.cost - 1);
    match (labels::best(graph, limits, &bound, most, watch), cheapest) {
        (Best::None, Some(way)) => Best::Way(way),
        (Best::GivenUp, Some(way)) => Best::Way(Way { proven: false, ..way }),
        (best, _) => best,
    }
}
