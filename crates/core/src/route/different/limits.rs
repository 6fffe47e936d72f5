//! What a route may have in common with the routes before it.

use super::field::Field;
use super::graph::Graph;
use super::{MOST_ROUTES, Way, in_common};

/// A count for every earlier route.
pub(super) type Common = [u16; MOST_ROUTES - 1];

/// How much may be in common with each of the earlier routes, and which nodes of a graph are.
pub(super) struct Limits {
    pub(super) earlier: usize,
    pub(super) in_common: u16,
    /// A bit for every earlier route that has the grip of a node at its moment.
    same: Vec<Vec<u8>>,
}

impl Limits {
    /// The limits beside some routes of a field.
    pub(super) fn new(field: &impl Field, graph: &Graph, earlier: &[Way]) -> Self {
        let counted = (0..field.moments()).filter(|moment| field.counts(*moment)).count();
        let same = |depth: usize| {
            let keys = &graph.layers()[depth].keys;
            let Some(moment) = depth.checked_sub(1).filter(|moment| field.counts(*moment)) else {
                return vec![0; keys.len()];
            };
            let grips: Vec<_> = earlier.iter().map(|way| way.grip(moment)).collect();
            let bits = |grip| grips.iter().rev().fold(0, |bits, other| bits << 1 | u8::from(*other == grip));
            keys.iter().map(|key| bits(key.grip)).collect()
        };
        Self {
            earlier: earlier.len(),
            in_common: in_common(counted) as u16,
            same: (0..graph.layers().len()).map(same).collect(),
        }
    }

    /// Which earlier routes have the grip of a node, a bit each.
    pub(super) fn same(&self, depth: usize, node: u32) -> u8 {
        self.same[depth][node as usize]
    }

    /// A count with one node more.
    pub(super) fn counted(&self, mut common: Common, depth: usize, node: u32) -> Common {
        let same = self.same(depth, node);
        for (index, common) in common.iter_mut().enumerate() {
            *common += u16::from(same >> index & 1);
        }
        common
    }

    pub(super) fn are_kept_by(&self, common: &Common) -> bool {
        common[..self.earlier].iter().all(|common| *common <= self.in_common)
    }

    /// Whether every way through a graph has too much in common with one of the earlier routes.
    pub(super) fn are_hopeless(&self, graph: &Graph) -> bool {
        let rest = self.least_common(graph);
        rest.first().and_then(|first| first.first()).is_none_or(|common| !self.are_kept_by(common))
    }

    /// The least that the rest from every node has in common with every earlier route, each by itself.
    pub(super) fn least_common(&self, graph: &Graph) -> Vec<Vec<Common>> {
        let layers = graph.layers();
        let mut all: Vec<Vec<Common>> = Vec::with_capacity(layers.len());
        for (depth, layer) in layers.iter().enumerate().rev() {
            let least = |node: usize| {
                let Some(next) = all.last() else { return Common::default() };
                let mut least = [u16::MAX; MOST_ROUTES - 1];
                for step in layer.steps(node) {
                    let common = self.counted(next[step.to as usize], depth + 1, step.to);
                    least.iter_mut().zip(common).for_each(|(least, common)| *least = (*least).min(common));
                }
                least
            };
            let here = (0..layer.keys.len()).map(least).collect();
            all.push(here);
        }
        all.reverse();
        all
    }
}
