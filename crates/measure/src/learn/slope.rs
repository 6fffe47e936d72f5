//! Which way the weights should go: how often each counts in routes that have the printed marks, and in any.
//!
//! Routes are taken as the more likely the cheaper they are (e to the power of minus the cost, in points of ten). The
//! marks that are not printed are left open: every route that has the printed ones counts by its likelihood. Routes
//! that contradict marks are made cheaper by a margin, so that being right by a hair is not enough.

use handspan_core::grip::moves::{Changes, HandAt, Pace, Way, each_change, haste, travelled};
use handspan_core::grip::weights::{Table, Weights};
use handspan_core::grip::{Grip, Reach};
use handspan_core::neck::Fret;

use super::lattice::{Kind, Lattice, Layer, Node};

/// A point of the finest kind, of which there are so many in a natural one.
pub(super) const FINE: f64 = 1000.0;
/// What is less likely than this moves no weight.
const UNLIKELY: f64 = 3e-4;

/// How much every contradicted mark changes the power of e.
#[derive(Clone, Copy, Debug)]
pub(super) struct Powers {
    pub(super) finger: f64,
    pub(super) open: f64,
    pub(super) string: f64,
    /// For every note that is stopped where it is taken as open.
    pub(super) taken: f64,
}

impl Powers {
    const fn of(&self, kind: Kind) -> f64 {
        match kind {
            Kind::Finger { .. } => self.finger,
            Kind::Open => self.open,
            Kind::String => self.string,
        }
    }

    fn sum(&self, layer: &Layer, node: &Node) -> f64 {
        let taken = self.taken * f64::from(node.stops);
        if node.wrong == 0 {
            return taken;
        }
        let wrong = layer.marks.iter().enumerate().filter(|(bit, _)| node.wrong & (1 << bit) != 0);
        taken + wrong.map(|(_, kind)| self.of(*kind)).sum::<f64>()
    }
}

/// Some marks to learn from: routes that keep them are to be more likely among those that are free.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lesson {
    pub(super) kept: Powers,
    pub(super) free: Powers,
    /// How much it counts.
    pub(super) share: f64,
}

impl Lesson {
    /// Whether a mark says anything here.
    fn has(&self, kind: Kind) -> bool {
        self.kept.of(kind) < self.free.of(kind)
    }
}

/// Adds the slope of one piece, per weight, to `slope`.
pub(super) fn slope(lattice: &Lattice, theta: &[f64], lessons: &[Lesson], slope: &mut [f64]) {
    let reach = Reach::weighing(lattice.reach.instrument(), lattice.reach.hand(), fine(theta));
    let strain = |counts: &Vec<(u16, i16)>| {
        counts.iter().map(|(slot, n)| theta[usize::from(*slot)] * f64::from(*n)).sum()
    };
    let strains: Vec<f64> = lattice.strains.iter().map(strain).collect();
    for passage in &lattice.passages {
        let says =
            |lesson: &&Lesson| passage.iter().flat_map(|layer| &layer.marks).any(|kind| lesson.has(*kind));
        let lessons: Vec<&Lesson> = lessons.iter().filter(says).collect();
        if !lessons.is_empty() {
            passage_slope(lattice, &reach, passage, &strains, &lessons, slope);
        }
    }
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
}

fn passage_slope(
    lattice: &Lattice,
    reach: &Reach,
    passage: &[Layer],
    strains: &[f64],
    lessons: &[&Lesson],
    slope: &mut [f64],
) {
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
    for Lesson { kept, free, share } in lessons {
        let kept = run(passage, strains, &moves, kept);
        let free = run(passage, strains, &moves, free);
        for (index, layer) in passage.iter().enumerate() {
            for (node, (k, f)) in layer.nodes.iter().zip(kept.at(index).into_iter().zip(free.at(index))) {
                if (k - f).abs() > UNLIKELY {
                    for (slot, count) in &lattice.strains[node.grip as usize] {
                        slope[usize::from(*slot)] += share * (k - f) * f64::from(*count);
                    }
                }
            }
            let into = Into { layer, moves: &moves[index], index, share: *share };
            add_moves(reach, &into, (&kept, &free), hand_before, slope);
        }
    }
}

/// The moves into a layer.
struct Into<'a> {
    layer: &'a Layer,
    /// How likely each move of every group is, by end and beginning.
    moves: &'a [Vec<f64>],
    index: usize,
    /// How much they count.
    share: f64,
}

/// Adds what the moves into a layer count.
fn add_moves<'a>(
    reach: &Reach,
    &Into { layer, moves, index, share: counts }: &Into<'_>,
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
                    counter.share = counts * share;
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
fn run(passage: &[Layer], strains: &[f64], moves: &[Vec<Vec<f64>>], powers: &Powers) -> Pass {
    let mut own: Vec<Vec<f64>> = Vec::with_capacity(passage.len());
    for layer in passage {
        let power = |node: &Node| powers.sum(layer, node) - strains[node.grip as usize];
        let most = layer.nodes.iter().map(power).fold(f64::MIN, f64::max);
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
    Pass { forward, backward }
}

/// Adds a share of every change of a move to the slope.
struct Counter<'a> {
    reach: &'a Reach,
    slope: &'a mut [f64],
    share: f64,
    haste: f64,
}

impl Counter<'_> {
    fn add(&mut self, table: Table, entry: usize, share: f64) {
        self.slope[table.slot(entry)] += share;
        self.slope[table.slot(entry + table.len() / 2)] += share * self.haste;
    }
}

impl Changes for Counter<'_> {
    fn changed(&mut self, table: Table, entry: usize, times: i32) {
        self.add(table, entry, self.share * f64::from(times));
    }

    fn shifted(&mut self, here: u8, there: u8, way: Way) {
        let (entry, tenths) = travelled(self.reach, Fret::new(here), Fret::new(there));
        self.add(way.table(), entry, self.share * f64::from(tenths) / 10.0);
        if there < here {
            self.changed(Table::Returns, 0, 1);
        }
    }
}
