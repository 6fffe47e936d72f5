//! Everything that lies on a route within a slack of the easiest: states, and what it costs to go from one to the next.

use super::Way;
use super::field::{Ended, Field};
use crate::route::layer::{Key, State, cheapest};
use crate::route::weighing::Weighing;
use crate::watch::Watch;

/// How many steps from state to state are laid out at most.
const MOST_STEPS: usize = 30_000_000;

/// The states of every moment by their cheapest way, the beginning first.
pub(super) struct Passed {
    layers: Vec<Vec<State>>,
}

impl Passed {
    /// Goes through the whole field once.
    pub(super) fn new(field: &mut impl Field, weighing: Weighing, watch: &dyn Watch) -> Result<Self, Ended> {
        Ok(Self { layers: field.pass(weighing, watch)? })
    }

    fn end(&self) -> &State {
        cheapest(&self.layers).expect("every layer has states")
    }

    /// What the easiest way costs.
    pub(super) fn least(&self) -> i64 {
        self.end().cost
    }

    /// The easiest way.
    pub(super) fn easiest(&self) -> Way {
        let mut state = self.end();
        let mut keys = vec![state.key];
        for before in self.layers.iter().rev().skip(1) {
            state = &before[state.from as usize];
            keys.push(state.key);
        }
        keys.reverse();
        Way { keys, cost: self.least(), proven: true }
    }
}

/// The states of a moment that are laid out.
#[derive(Default)]
pub(super) struct Layer {
    pub(super) keys: Vec<Key>,
    /// Where the steps of every state begin, and where the last ones end.
    begins: Vec<u32>,
    steps: Vec<Step>,
}

/// A step to a state of the next moment, and what it costs.
#[derive(Clone, Copy)]
pub(super) struct Step {
    pub(super) to: u32,
    cost: i32,
}

impl Step {
    pub(super) const fn cost(self) -> i64 {
        self.cost as i64
    }
}

impl Layer {
    /// The steps that go on from a state.
    pub(super) fn steps(&self, node: usize) -> &[Step] {
        &self.steps[self.begins[node] as usize..self.begins[node + 1] as usize]
    }
}

/// The layers of a beginning and of every moment after it.
pub(super) struct Graph {
    layers: Vec<Layer>,
    slack: i64,
}

impl Graph {
    /// Goes back from the end, and leaves out whatever lies on no way that is cheap enough.
    pub(super) fn new(
        field: &mut impl Field,
        weighing: Weighing,
        passed: &Passed,
        slack: i64,
        watch: &dyn Watch,
    ) -> Result<Self, Ended> {
        let most = passed.least().saturating_add(slack);
        let mut layers = Vec::with_capacity(passed.layers.len());
        let mut next = Ahead::default();
        let mut laid_out = 0;
        for (depth, states) in passed.layers.iter().enumerate().rev() {
            if watch.should_stop() || laid_out > MOST_STEPS {
                return Err(Ended::Stopped);
            }
            let mut layer = Layer { begins: vec![0], ..Layer::default() };
            let mut rests = Vec::new();
            for state in states {
                let rest = if depth == field.moments() {
                    (state.cost <= most).then_some(0)
                } else {
                    let after = field.advance(weighing, depth, &[State::at(state.key)]);
                    next.lay_out(&after, most.saturating_sub(state.cost), &mut layer.steps)
                };
                if let Some(rest) = rest {
                    layer.keys.push(state.key);
                    layer.begins.push(layer.steps.len() as u32);
                    rests.push(rest);
                }
            }
            laid_out += layer.steps.len();
            next = Ahead { nodes: layer.keys.iter().map(Key::packed).zip(rests).collect() };
            layers.push(layer);
        }
        layers.reverse();
        Ok(Self { layers, slack })
    }

    pub(super) fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// How much dearer than the easiest a route may be that is certain to lie in the graph; without bound where nothing
    /// is left out.
    pub(super) const fn slack(&self) -> i64 {
        self.slack
    }

    /// The way along some nodes, one a layer.
    pub(super) fn way(&self, nodes: &[u32], cost: i64) -> Way {
        let keys = self.layers.iter().zip(nodes).map(|(layer, node)| layer.keys[*node as usize]);
        Way { keys: keys.collect(), cost, proven: true }
    }
}

/// The nodes of the next moment: the number of the key, in order, and what the cheapest way from there costs.
#[derive(Default)]
struct Ahead {
    nodes: Vec<(u128, i64)>,
}

impl Ahead {
    /// Lays out the steps to what follows on a state whose whole rest costs at most `most`. Gives what the cheapest
    /// rest costs; none where there is no such step.
    fn lay_out(&self, after: &[State], most: i64, steps: &mut Vec<Step>) -> Option<i64> {
        let mut least: Option<i64> = None;
        let mut at = 0;
        for state in after {
            let packed = state.key.packed();
            at += self.nodes[at..].partition_point(|(key, _)| *key < packed);
            let Some((_, rest)) = self.nodes.get(at).filter(|(key, _)| *key == packed) else { continue };
            let whole = state.cost + rest;
            if whole <= most {
                steps.push(Step { to: at as u32, cost: i32::try_from(state.cost).ok()? });
                least = Some(least.map_or(whole, |least| least.min(whole)));
            }
        }
        least
    }
}
