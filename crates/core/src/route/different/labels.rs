//! The cheapest way through a graph that keeps the limits, by best-first search.
//!
//! Every way that is followed knows what it has in common with each earlier route. It is judged by what it cost so far
//! and the least that the rest costs: without prices, and with them. A way to a node is left where another one is no
//! dearer and has no more in common with any earlier route, since whatever completes it completes the other as well;
//! and where the rest of every way has too much in common.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::Way;
use super::graph::Graph;
use super::limits::{Common, Limits};
use super::prices::Bound;
use crate::watch::Watch;

/// How many ways are followed before the search is given up.
const MOST_FOLLOWED: usize = 2_000_000;

/// What the search came to.
pub(super) enum Best {
    /// The cheapest way.
    Way(Way),
    /// There is none.
    None,
    /// Not known: stopped, or too much to look at.
    GivenUp,
}

/// A way as far as it has been followed.
struct Label {
    node: u32,
    /// The label it continues.
    before: u32,
    cost: i64,
    common: Common,
}

/// The cheapest way that keeps the limits and costs at most `most`.
pub(super) fn best(graph: &Graph, limits: &Limits, bound: &Bound, most: i64, watch: &dyn Watch) -> Best {
    let rest = rest(graph);
    let least_common = limits.least_common(graph);
    Search { graph, limits, bound, rest, least_common, most }.run(watch)
}

/// What the cheapest rest from every node costs.
fn rest(graph: &Graph) -> Vec<Vec<i64>> {
    let mut all: Vec<Vec<i64>> = Vec::with_capacity(graph.layers().len());
    for layer in graph.layers().iter().rev() {
        let least = |node: usize| {
            let next = all.last()?;
            layer.steps(node).iter().map(|step| step.cost() + next[step.to as usize]).min()
        };
        let here = (0..layer.keys.len()).map(|node| least(node).unwrap_or(0)).collect();
        all.push(here);
    }
    all.reverse();
    all
}

struct Search<'a> {
    graph: &'a Graph,
    limits: &'a Limits,
    bound: &'a Bound,
    rest: Vec<Vec<i64>>,
    least_common: Vec<Vec<Common>>,
    most: i64,
}

impl Search<'_> {
    fn run(&self, watch: &dyn Watch) -> Best {
        let layers = self.graph.layers();
        let mut reached: Vec<Vec<Vec<u32>>> =
            layers.iter().map(|layer| vec![Vec::new(); layer.keys.len()]).collect();
        let mut labels = vec![Label { node: 0, before: 0, cost: 0, common: Common::default() }];
        let mut open = BinaryHeap::new();
        if let Some(judged) = self.judged(0, &labels[0]) {
            open.push((Reverse(judged), 0, Reverse(0_u32)));
        }
        while let Some((_, depth, Reverse(index))) = open.pop() {
            let Label { node, cost, common, .. } = labels[index as usize];
            if depth + 1 == layers.len() {
                return Best::Way(self.way(&labels, index));
            }
            let others = &mut reached[depth][node as usize];
            if others.iter().any(|other| is_no_worse(&labels[*other as usize], cost, &common)) {
                continue;
            }
            others.push(index);
            if labels.len() > MOST_FOLLOWED || (index.is_multiple_of(1024) && watch.should_stop()) {
                return Best::GivenUp;
            }
            for step in layers[depth].steps(node as usize) {
                let common = self.limits.counted(common, depth + 1, step.to);
                let next = Label { node: step.to, before: index, cost: cost + step.cost(), common };
                if let Some(judged) = self.judged(depth + 1, &next) {
                    open.push((Reverse(judged), depth + 1, Reverse(labels.len() as u32)));
                    labels.push(next);
                }
            }
        }
        Best::None
    }

    /// The least that a label's completion costs; none where that is too much, or where a limit is broken.
    fn judged(&self, depth: usize, label: &Label) -> Option<i64> {
        let mut common = label.common;
        let rest = &self.least_common[depth][label.node as usize];
        common.iter_mut().zip(rest).for_each(|(common, rest)| *common += rest);
        if !self.limits.are_kept_by(&common) {
            return None;
        }
        let priced = self.bound.judged(depth, label.node, label.cost, &label.common);
        let judged = priced.max(label.cost + self.rest[depth][label.node as usize]);
        (judged <= self.most).then_some(judged)
    }

    fn way(&self, labels: &[Label], end: u32) -> Way {
        let mut label = &labels[end as usize];
        let cost = label.cost;
        let mut nodes = Vec::with_capacity(self.graph.layers().len());
        while nodes.len() < self.graph.layers().len() {
            nodes.push(label.node);
            label = &labels[label.before as usize];
        }
        nodes.reverse();
        self.graph.way(&nodes, cost)
    }
}

fn is_no_worse(other: &Label, cost: i64, common: &Common) -> bool {
    other.cost <= cost && other.common.iter().zip(common).all(|(other, common)| other <= common)
}
