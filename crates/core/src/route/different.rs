//! The best routes that are really different, exactly.
//!
//! All routes lie in one graph of layers. The first is the cheapest; each further one is the cheapest of those that
//! have at most so many moments in common with every one before it. Ways through the graph are followed best first,
//! by what they cost so far and the least that the rest costs, each with a count of what it has in common with every
//! earlier route. A way to a node that is no cheaper than another there and has as much in common with every earlier
//! route is not followed: whatever completes it completes the other as well.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::watch::Watch;

/// How many ways are followed before the search for one more route is given up.
const MOST_FOLLOWED: usize = 4_000_000;

/// A layer of the graph: a node for every state of a moment.
#[derive(Debug, Default)]
pub(super) struct Layer {
    /// What two routes have in common that go through nodes of one look; none where it does not count.
    pub(super) looks: Vec<Option<u32>>,
    /// The ways of every node to nodes of the next layer, with what they cost.
    pub(super) ways: Vec<Vec<(u32, i64)>>,
}

/// A way from the first layer to the last.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Path {
    /// The index of its node in every layer.
    pub(super) nodes: Vec<u32>,
    pub(super) cost: i64,
}

/// What a search for different paths found.
#[derive(Debug)]
pub(super) struct Found {
    /// The paths, best first.
    pub(super) paths: Vec<Path>,
    /// Whether each is proven to be the best, and there are no more where there are fewer than asked for.
    pub(super) proven: bool,
}

/// The best paths from the first node of the first layer to any of the last, so many at most, of which any two have
/// at most `in_common` looks in common.
pub(super) fn different(layers: &[Layer], count: usize, in_common: usize, watch: &dyn Watch) -> Found {
    let rest = least_rest(layers);
    let mut found = Found { paths: Vec::new(), proven: true };
    while found.paths.len() < count {
        let search = Search { layers, rest: &rest, earlier: &found.paths, in_common };
        match search.best(watch) {
            Best::Path(path) => found.paths.push(path),
            Best::None => break,
            Best::Stopped => {
                found.proven = false;
                break;
            }
        }
    }
    found
}

/// The least that it costs from every node to the end; none where no way leads there.
fn least_rest(layers: &[Layer]) -> Vec<Vec<Option<i64>>> {
    let mut rest: Vec<Vec<Option<i64>>> = Vec::with_capacity(layers.len());
    for layer in layers.iter().rev() {
        let here = match rest.last() {
            None => vec![Some(0); layer.looks.len()],
            Some(next) => {
                let from = |ways: &Vec<(u32, i64)>| {
                    ways.iter().filter_map(|(to, cost)| Some(cost + next[*to as usize]?)).min()
                };
                layer.ways.iter().map(from).collect()
            }
        };
        rest.push(here);
    }
    rest.reverse();
    rest
}

enum Best {
    Path(Path),
    None,
    Stopped,
}

struct Search<'a> {
    layers: &'a [Layer],
    rest: &'a [Vec<Option<i64>>],
    earlier: &'a [Path],
    in_common: usize,
}

/// A way as far as it has been followed.
struct Label {
    node: u32,
    /// The label it continues.
    before: u32,
    cost: i64,
    /// How many looks it has in common with every earlier path.
    common: Vec<u16>,
}

impl Search<'_> {
    fn best(&self, watch: &dyn Watch) -> Best {
        let mut reached: Vec<Vec<Vec<u32>>> =
            self.layers.iter().map(|layer| vec![Vec::new(); layer.looks.len()]).collect();
        let mut labels: Vec<Label> = Vec::new();
        let mut open = BinaryHeap::new();
        let start = Label { node: 0, before: 0, cost: 0, common: vec![0; self.earlier.len()] };
        if let Some(label) = self.counted(0, start)
            && let Some(rest) = self.rest[0][0]
        {
            labels.push(label);
            open.push((Reverse(rest), 0_usize, Reverse(0_u32)));
        }
        while let Some((_, depth, Reverse(index))) = open.pop() {
            let label = &labels[index as usize];
            if depth + 1 == self.layers.len() {
                return Best::Path(self.path(&labels, index));
            }
            let node = label.node as usize;
            let dominated = reached[depth][node].iter().any(|other| {
                let other = &labels[*other as usize];
                other.cost <= label.cost && other.common.iter().zip(&label.common).all(|(a, b)| a <= b)
            });
            if dominated {
                continue;
            }
            if labels.len() >= MOST_FOLLOWED || (index.is_multiple_of(1024) && watch.should_stop()) {
                return Best::Stopped;
            }
            reached[depth][node].push(index);
            let (cost, common) = (label.cost, label.common.clone());
            for (to, step) in &self.layers[depth].ways[node] {
                let Some(rest) = self.rest[depth + 1][*to as usize] else { continue };
                let next = Label { node: *to, before: index, cost: cost + step, common: common.clone() };
                if let Some(next) = self.counted(depth + 1, next) {
                    open.push((Reverse(next.cost + rest), depth + 1, Reverse(labels.len() as u32)));
                    labels.push(next);
                }
            }
        }
        Best::None
    }

    /// Counts what a label's node has in common with the earlier paths; none where it is too much.
    fn counted(&self, depth: usize, mut label: Label) -> Option<Label> {
        let looks = &self.layers[depth].looks;
        let look = looks[label.node as usize];
        for (path, common) in self.earlier.iter().zip(&mut label.common) {
            if look.is_some() && look == looks[path.nodes[depth] as usize] {
                *common += 1;
            }
            if usize::from(*common) > self.in_common {
                return None;
            }
        }
        Some(label)
    }

    fn path(&self, labels: &[Label], end: u32) -> Path {
        let mut nodes = Vec::with_capacity(self.layers.len());
        let mut at = &labels[end as usize];
        let cost = at.cost;
        while nodes.len() < self.layers.len() {
            nodes.push(at.node);
            at = &labels[at.before as usize];
        }
        nodes.reverse();
        Path { nodes, cost }
    }
}
