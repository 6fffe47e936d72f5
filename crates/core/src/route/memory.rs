//! What a finder keeps of its passes: up to the first demand that has changed, a layer is what it was.

use super::layer::{Key, State};
use super::weighing::Weighing;
use crate::demand::Demand;

/// How many passes are kept: a search for the gentlest hardest move has two.
const KEPT: usize = 2;

/// The states of every moment gone through, under one weighing.
#[derive(Debug)]
pub(super) struct Pass {
    weighing: Weighing,
    demands: Vec<Demand>,
    /// The beginning first.
    pub(super) layers: Vec<Vec<State>>,
}

impl Pass {
    /// The beginning alone.
    pub(super) fn new(weighing: Weighing) -> Self {
        Self { weighing, demands: Vec::new(), layers: vec![vec![State::at(Key::NOTHING)]] }
    }

    /// Adds the states of a moment.
    pub(super) fn push(&mut self, demand: &Demand, layer: Vec<State>) {
        self.demands.push(*demand);
        self.layers.push(layer);
    }
}

/// The passes of the searches so far, the latest last.
#[derive(Debug, Default)]
pub(super) struct Memory {
    passes: Vec<Pass>,
}

impl Memory {
    /// What is known of a pass under a weighing through these demands, the beginning at least.
    pub(super) fn recall(&mut self, weighing: Weighing, demands: &[Demand]) -> Pass {
        let known = self.passes.iter().position(|pass| pass.weighing == weighing);
        let mut pass = known.map_or_else(|| Pass::new(weighing), |index| self.passes.remove(index));
        let unchanged = pass.demands.iter().zip(demands).take_while(|(before, now)| before == now).count();
        pass.demands.truncate(unchanged);
        pass.layers.truncate(unchanged + 1);
        pass
    }

    /// Keeps a pass, as far as it has come.
    pub(super) fn keep(&mut self, pass: Pass) {
        self.passes.push(pass);
        if self.passes.len() > KEPT {
            self.passes.remove(0);
        }
    }
}
