//! The best routes that are really different, for the whole of a tune or a part of it.

use std::collections::BTreeMap;
use std::ops::Range;

use super::candidates::Strokes;
use super::different::{Layer, Path, different};
use super::layer::{Key, State};
use super::search::{Impasse, Route, advance, easiest, step};
use crate::demand::Demand;
use crate::grip::{Grip, Reach};
use crate::watch::Watch;

/// Of how many moments in a hundred two routes that are really different may have the same grip: the same strings at
/// the same frets under the same fingers.
///
/// With a finger swapped here and there two routes are the same to a player; where the hand does something else in
/// every second moment they are two. (The project's own, no source.)
pub const MOST_OVERLAP: usize = 50;

/// The easiest route through all demands, and after it the easiest of those that are really different.
///
/// Each has at most [`MOST_OVERLAP`] of a hundred grips within `within` in common with every one before it. `count` at
/// most; fewer where there are no more or where the watch stopped the search.
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
    let Some(graph) = Graph::new(reach, demands, &within, watch)? else {
        return easiest(reach, demands, watch).map(|hurried| vec![hurried]);
    };
    let found = different(&graph.layers, count, in_common(within.len()), watch);
    Ok(found.paths.iter().map(|path| graph.route(reach, demands, path)).collect())
}

/// How many of so many moments two routes that are really different may have in common.
pub fn in_common(moments: usize) -> usize {
    moments * MOST_OVERLAP / 100
}

/// Every state of every moment, and every way from one to the next.
struct Graph {
    keys: Vec<Vec<Key>>,
    layers: Vec<Layer>,
}

impl Graph {
    /// None when stopped.
    fn new(
        reach: &Reach,
        demands: &[Demand],
        within: &Range<usize>,
        watch: &dyn Watch,
    ) -> Result<Option<Self>, Impasse> {
        let mut strokes = Strokes::new(reach);
        let mut graph = Self {
            keys: vec![vec![Key::NOTHING]],
            layers: vec![Layer { looks: vec![None], ways: Vec::new() }],
        };
        for (index, demand) in demands.iter().enumerate() {
            if watch.should_stop() {
                return Ok(None);
            }
            let after = |key: &Key| {
                let alone = [State { key: *key, cost: 0, from: 0 }];
                advance(reach, &mut strokes, &alone, demand)
            };
            let reached: Vec<Vec<State>> = graph.keys[index].iter().map(after).collect();
            graph.extend(&reached, within.contains(&index));
            if graph.keys[index + 1].is_empty() {
                return Err(Impasse { demand: index });
            }
        }
        Ok(Some(graph))
    }

    /// Adds a layer of what is reached from every state of the last one.
    fn extend(&mut self, reached: &[Vec<State>], counts: bool) {
        let states: BTreeMap<u128, Key> =
            reached.iter().flatten().map(|state| (state.key.packed(), state.key)).collect();
        let order: Vec<u128> = states.keys().copied().collect();
        let index = |state: &State| order.partition_point(|packed| *packed < state.key.packed()) as u32;
        let ways = |states: &Vec<State>| states.iter().map(|state| (index(state), state.cost)).collect();
        if let Some(last) = self.layers.last_mut() {
            last.ways = reached.iter().map(ways).collect();
        }
        let keys: Vec<Key> = states.into_values().collect();
        self.layers.push(Layer { looks: looks(&keys, counts), ways: Vec::new() });
        self.keys.push(keys);
    }

    fn route(&self, reach: &Reach, demands: &[Demand], path: &Path) -> Route {
        let states: Vec<State> = path
            .nodes
            .iter()
            .zip(&self.keys)
            .map(|(node, keys)| State { key: keys[*node as usize], cost: 0, from: 0 })
            .collect();
        let moves = states.iter().zip(states.iter().skip(1));
        let steps =
            demands.iter().zip(moves).map(|(demand, (before, state))| step(reach, demand, before, state));
        Route { steps: steps.collect(), cost: path.cost, proven: true }
    }
}

/// A number for every grip, the same for the same strings, frets and fingers.
fn looks(keys: &[Key], counts: bool) -> Vec<Option<u32>> {
    let mut grips: Vec<Grip> = keys.iter().map(|key| key.grip).collect();
    grips.sort_unstable();
    grips.dedup();
    keys.iter().map(|key| counts.then(|| grips.partition_point(|grip| *grip < key.grip) as u32)).collect()
}
