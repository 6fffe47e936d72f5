//! Which way the weights should go: how often each counts in routes that have the printed marks, and in any.
//!
//! Routes are taken as the more likely the cheaper they are (e to the power of minus the cost, in points of ten). The
//! marks that are not printed are left open: every route that has the printed ones counts by its likelihood. Routes
//! that contradict marks are made cheaper by a margin, so that being right by a hair is not enough.

use handspan_core::grip::moves::{Changes, HandAt, Pace, Way, each_change, haste};
use handspan_core::grip::weights::{Table, Weights};
use handspan_core::grip::{Grip, Reach};

use super::lattice::{Lattice, Layer};

/// A point of the finest kind, of which there are so many in a natural one.
pub(super) const FINE: f64 = 1000.0;
/// The likelihood of routes falls by this power of e with every mark that they contradict, where marks are to be kept.
const CONTRADICTED: f64 = 14.0;
/// What is less likely than this moves no weight.
const UNLIKELY: f64 = 3e-4;

/// How much a contradicted mark changes the power of e.
#[derive(Clone, Copy, Debug)]
pub(super) struct Margin {
    pub(super) finger: f64,
    pub(super) open: f64,
    pub(super) string: f64,
    pub(super) taken: f64,
    pub(super) taken_kept: f64,
}

impl Margin {
    fn of(&self, layer: &Layer, node: &super::lattice::Node) -> f64 {
        let mut sum = self.taken * f64::from(node.stops);
        if node.wrong != 0 {
            for (bit, kind) in layer.marks.iter().enumerate() {
                if node.wrong & (1 << bit) != 0 {
                    sum += match kind {
                        super::lattice::Kind::Finger { .. } => self.finger,
                        super::lattice::Kind::Open => self.open,
                        super::lattice::Kind::String => self.string,
                    };
                }
            }
        }
        sum
    }
}

/// Adds the slope of one piece, per weight, to `slope`; gives the loss: the log-likelihood that is missing.
pub(super) fn slope(lattice: &Lattice, theta: &[f64], margin: &Margin, slope: &mut [f64]) -> f64 {
    let reach = Reach::weighing(lattice.reach.instrument(), lattice.reach.hand(), fine(theta));
    let strain = |counts: &Vec<(u16, i16)>| {
        counts.iter().map(|(slot, n)| theta[usize::from(*slot)] * f64::from(*n)).sum()
    };
    let strains: Vec<f64> = lattice.strains.iter().map(strain).collect();
    let marked = |passage: &&Vec<Layer>| passage.iter().any(|layer| !layer.marks.is_empty());
    lattice
        .passages
        .iter()
        .filter(marked)
        .map(|p| passage_slope(lattice, &reach, p, &strains, margin, slope))
        .sum()
}

/// Weights in whole fine points.
pub(super) fn fine(theta: &[f64]) -> Weights {
    let points: Vec<i32> = theta.iter().map(|w| libm::round(w * FINE) as i32).collect();
    Weights::from_points(&points)
}

/// Likelihoods along a passage, each layer scaled to a sum of one.
struct Pass {
    forward: Vec<Vec<f64>>,
    backward: Vec<Vec<f64>>,
    log: f64,
}

fn passage_slope(
    lattice: &Lattice,
    reach: &Reach,
    passage: &[Layer],
    strains: &[f64],
    margin: &Margin,
    slope: &mut [f64],
) -> f64 {
    let nothing = HandAt::holding(reach, &Grip::SILENT);
    let hand_before = |layer: usize, from: u32| match layer {
        0 => &nothing,
        _ => &passage[layer - 1].nodes[from as usize].hand,
    };
    let moves: Vec<Vec<Vec<f64>>> = (0..passage.len())
        .map(|index| {
            let pace = Pace::new(reach, passage[index].milliseconds);
            let group = |group: &super::lattice::Group| {
                let mut likely = Vec::with_capacity(group.from.len() * group.nodes.len());
                for &node in &group.nodes {
                    let hand = &passage[index].nodes[node as usize].hand;
                    likely.extend(group.from.iter().map(|from| {
                        libm::exp(-f64::from(pace.total(hand_before(index, *from), hand)) / FINE)
                    }));
                }
                likely
            };
            passage[index].groups.iter().map(group).collect()
        })
        .collect();
    let kept = run(
        passage,
        strains,
        &moves,
        &Margin {
            finger: -CONTRADICTED,
            open: -CONTRADICTED,
            string: -CONTRADICTED,
            taken: -margin.taken_kept,
            taken_kept: 0.0,
        },
    );
    let free = run(passage, strains, &moves, margin);
    for (index, layer) in passage.iter().enumerate() {
        for (node, (k, f)) in layer.nodes.iter().zip(kept.at(index).into_iter().zip(free.at(index))) {
            if (k - f).abs() > UNLIKELY {
                for (slot, count) in &lattice.strains[node.grip as usize] {
                    slope[usize::from(*slot)] += (k - f) * f64::from(*count);
                }
            }
        }
        let into = Into { layer, moves: &moves[index], index };
        add_moves(reach, &into, (&kept, &free), hand_before, slope);
    }
    free.log - kept.log
}

/// The moves into a layer.
struct Into<'a> {
    layer: &'a Layer,
    /// How likely each move of every group is, by end and beginning.
    moves: &'a [Vec<f64>],
    index: usize,
}

/// Adds what the moves into a layer count.
fn add_moves<'a>(
    reach: &Reach,
    &Into { layer, moves, index }: &Into<'_>,
    (kept, free): (&Pass, &Pass),
    hand_before: impl Fn(usize, u32) -> &'a HandAt,
    slope: &mut [f64],
) {
    let one = [1.0];
    let forward =
        |pass: &Pass, from: usize| if index == 0 { one[from] } else { pass.forward[index - 1][from] };
    // The likelihood of an edge is that of its end, shared by what comes in.
    let mut counter = Counter { reach, slope, share: 0.0, haste: f64::from(haste(layer.milliseconds)) };
    for (group, likely) in layer.groups.iter().zip(moves) {
        for (&node, row) in group.nodes.iter().zip(likely.chunks(group.from.len())) {
            let ends = (kept.one(index, node as usize), free.one(index, node as usize));
            if ends.0.max(ends.1) < UNLIKELY {
                continue;
            }
            let comes = |pass: &Pass| -> f64 {
                group.from.iter().zip(row).map(|(from, likely)| forward(pass, *from as usize) * likely).sum()
            };
            let sums = (comes(kept), comes(free));
            for (&from, likely) in group.from.iter().zip(row) {
                let part = |pass: &Pass, end: f64, sum: f64| {
                    if sum > 0.0 { end * forward(pass, from as usize) * likely / sum } else { 0.0 }
                };
                let share = part(kept, ends.0, sums.0) - part(free, ends.1, sums.1);
                if share.abs() > UNLIKELY {
                    counter.share = share;
                    each_change(hand_before(index, from), &layer.nodes[node as usize].hand, &mut counter);
                }
            }
        }
    }
}

impl Pass {
    fn one(&self, layer: usize, node: usize) -> f64 {
        self.forward[layer][node] * self.backward[layer][node]
    }

    /// How likely every node of a layer is.
    fn at(&self, layer: usize) -> Vec<f64> {
        (0..self.forward[layer].len()).map(|node| self.one(layer, node)).collect()
    }
}

/// Forward and backward through a passage (Rabiner 1989 tells the method; scaled so that products of both are
/// likelihoods).
fn run(passage: &[Layer], strains: &[f64], moves: &[Vec<Vec<f64>>], by_mark: &Margin) -> Pass {
    let mut log = 0.0;
    let mut own: Vec<Vec<f64>> = Vec::with_capacity(passage.len());
    for layer in passage {
        let power = |node: &super::lattice::Node| by_mark.of(layer, node) - strains[node.grip as usize];
        let most = layer.nodes.iter().map(power).fold(f64::MIN, f64::max);
        log += most;
        own.push(layer.nodes.iter().map(|node| libm::exp(power(node) - most)).collect());
    }
    let mut forward: Vec<Vec<f64>> = Vec::with_capacity(passage.len());
    let mut scales = Vec::with_capacity(passage.len());
    for (index, layer) in passage.iter().enumerate() {
        let one = vec![1.0];
        let before = if index == 0 { &one } else { &forward[index - 1] };
        let mut now = vec![0.0; layer.nodes.len()];
        for (group, likely) in layer.groups.iter().zip(&moves[index]) {
            for (&node, row) in group.nodes.iter().zip(likely.chunks(group.from.len())) {
                let sum: f64 = group.from.iter().zip(row).map(|(from, l)| before[*from as usize] * l).sum();
                now[node as usize] = sum * own[index][node as usize];
            }
        }
        let scale = now.iter().sum::<f64>().max(f64::MIN_POSITIVE);
        for value in &mut now {
            *value /= scale;
        }
        log += libm::log(scale);
        scales.push(scale);
        forward.push(now);
    }
    let mut backward: Vec<Vec<f64>> = passage.iter().map(|layer| vec![0.0; layer.nodes.len()]).collect();
    if let Some(last) = backward.last_mut() {
        last.fill(1.0);
    }
    for index in (1..passage.len()).rev() {
        let (earlier, later) = backward.split_at_mut(index);
        let (before, now) = (&mut earlier[index - 1], &later[0]);
        for (group, likely) in passage[index].groups.iter().zip(&moves[index]) {
            for (&node, row) in group.nodes.iter().zip(likely.chunks(group.from.len())) {
                let value = now[node as usize] * own[index][node as usize] / scales[index];
                for (&from, l) in group.from.iter().zip(row) {
                    before[from as usize] += value * l;
                }
            }
        }
    }
    Pass { forward, backward, log }
}

/// Adds a share of every change of a move to the slope.
struct Counter<'a> {
    reach: &'a Reach,
    slope: &'a mut [f64],
    share: f64,
    haste: f64,
}

impl Changes for Counter<'_> {
    fn changed(&mut self, table: Table, entry: usize, times: i32) {
        let share = self.share * f64::from(times);
        self.slope[table.slot(entry)] += share;
        self.slope[table.slot(entry + table.len() / 2)] += share * self.haste;
    }

    fn shifted(&mut self, here: u8, there: u8, way: Way) {
        let fret = handspan_core::neck::Fret::new;
        self.changed(way.table(), self.reach.steps(fret(here), fret(there)).max(1) - 1, 1);
        if there < here {
            self.changed(Table::Returns, 0, 1);
        }
    }
}
