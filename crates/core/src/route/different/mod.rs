//! The best routes that are really different, exactly.
//!
//! The first route is the easiest; each further one is the easiest of those that have at most so many grips in common
//! with every route before it. What they may have in common is a limit on a sum along the route, so this is a cheapest
//! way with limited resources, and it is found as those are (Handler and Zang 1980; Beasley and Christofides 1989):
//! `graph` lays out everything that lies on a route within a slack of the easiest; `prices` puts a price on every grip
//! of an earlier route, which bounds from below what a different route costs; `labels` looks for the best way under
//! these bounds. Where the best way within the slack does not prove to be the best of all, the slack is widened.
//! `field` is the music, arranged or written, moment by moment.

mod arranged;
mod field;
mod graph;
mod labels;
mod limits;
mod prices;
mod written;

pub use arranged::different_routes;
pub use written::different_written;

use self::field::{Ended, Field};
use self::graph::{Graph, Passed};
use self::labels::Best;
use self::limits::Limits;
use super::layer::Key;
use crate::grip::Grip;
use crate::watch::Watch;

/// Of how many moments in a hundred two routes that are really different may have the same grip: the same strings at
/// the same frets under the same fingers.
///
/// With a finger swapped here and there two routes are the same to a player; where the hand does something else in
/// every second moment they are two. (The project's own, no source.)
pub const MOST_OVERLAP: usize = 50;

/// How many of so many moments two routes that are really different may have in common.
pub fn in_common(moments: usize) -> usize {
    moments * MOST_OVERLAP / 100
}

/// How many routes there are at most.
pub const MOST_ROUTES: usize = 9;

/// How much dearer than the easiest a route may be that is looked for first.
const SLACK: i64 = 100;

/// A way through the field.
#[derive(Clone, Debug)]
struct Way {
    /// What the hand holds, the beginning first, then every moment.
    keys: Vec<Key>,
    cost: i64,
    /// Whether no way is cheaper that is different enough from those before.
    proven: bool,
}

impl Way {
    fn grip(&self, moment: usize) -> Grip {
        self.keys[moment + 1].grip
    }
}

/// The best ways that are really different, the best first.
///
/// There are fewer than `count` where no more are different enough, or where the watch stopped the search.
fn different(field: &mut impl Field, count: usize, watch: &dyn Watch) -> Result<Vec<Way>, Ended> {
    let count = count.min(MOST_ROUTES);
    let passed = Passed::new(field, watch)?;
    let mut ways = vec![passed.easiest()];
    ways.truncate(count);
    let mut graph = None;
    while ways.len() < count {
        watch.progress(ways.len(), count);
        match next(field, &passed, &mut graph, &ways, watch) {
            Ok(Some(way)) => ways.push(way),
            Ok(None) | Err(_) => break,
        }
    }
    Ok(ways)
}

/// The cheapest way that is different enough from all before, if there is any.
fn next(
    field: &mut impl Field,
    passed: &Passed,
    graph: &mut Option<Graph>,
    ways: &[Way],
    watch: &dyn Watch,
) -> Result<Option<Way>, Ended> {
    let mut slack = SLACK;
    loop {
        let laid_out = match graph.take() {
            Some(wide_enough) if wide_enough.slack() >= slack => wide_enough,
            _ => Graph::new(field, passed, slack, watch)?,
        };
        let best = best_within(&laid_out, &Limits::new(field, &laid_out, ways), watch);
        let complete = laid_out.slack() == i64::MAX;
        let within = passed.least().saturating_add(laid_out.slack());
        *graph = Some(laid_out);
        slack = match best {
            Best::Way(way) if !way.proven || complete || way.cost <= within => return Ok(Some(way)),
            Best::Way(way) => way.cost - passed.least(),
            Best::None if complete => return Ok(None),
            Best::None => i64::MAX,
            Best::GivenUp => return Err(Ended::Stopped),
        };
    }
}

/// The cheapest way through a graph that keeps the limits.
fn best_within(graph: &Graph, limits: &Limits, watch: &dyn Watch) -> Best {
    if limits.are_hopeless(graph) {
        return Best::None;
    }
    let prices::Ascent { bound, cheapest } = prices::ascend(graph, limits);
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
