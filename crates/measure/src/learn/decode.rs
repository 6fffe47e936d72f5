//! The easiest route through a lattice under given weights, and how far it agrees with the print.

use std::ops::AddAssign;

use handspan_core::grip::Reach;
use handspan_core::grip::moves::Pace;
use handspan_core::grip::weights::Weights;
use serde::Serialize;

use super::lattice::{Kind, Lattice, Layer};

/// What contradicting a locked mark costs: more than any effort.
const LOCKED: i64 = 1_000_000_000;

/// How many marks there are, and how many the easiest route has.
#[derive(Clone, Copy, Default, Serialize, Debug)]
pub(super) struct Agreement {
    pub(super) fingers: (usize, usize),
    pub(super) open: (usize, usize),
    pub(super) strings: (usize, usize),
    pub(super) half: (usize, usize),
}

impl AddAssign for Agreement {
    fn add_assign(&mut self, other: Self) {
        for (mine, its) in [
            (&mut self.fingers, other.fingers),
            (&mut self.open, other.open),
            (&mut self.strings, other.strings),
            (&mut self.half, other.half),
        ] {
            mine.0 += its.0;
            mine.1 += its.1;
        }
    }
}

/// Compares the easiest route with the print; a second one, with every second digit locked, with the rest of it.
pub(super) fn agreement(lattice: &Lattice, weights: &Weights) -> Agreement {
    let reach = Reach::weighing(lattice.reach.instrument(), lattice.reach.hand(), weights.clone());
    let strains = strains(&lattice.strains, weights);
    let mut found = Agreement::default();
    for kind in &lattice.lost {
        match kind {
            Kind::Finger { locked } => {
                found.fingers.0 += 1;
                found.half.0 += usize::from(!locked);
            }
            Kind::Open => found.open.0 += 1,
            Kind::String => found.strings.0 += 1,
        }
    }
    for passage in &lattice.passages {
        let free = easiest(&reach, passage, &strains, |_| 0);
        let half = easiest(&reach, passage, &strains, locked);
        for ((layer, free), half) in passage.iter().zip(free).zip(half) {
            let (free, half) = (layer.nodes[free].wrong, layer.nodes[half].wrong);
            for (bit, kind) in layer.marks.iter().enumerate() {
                let right = |wrong: u32| usize::from(wrong & (1 << bit) == 0);
                let counts = match kind {
                    Kind::Finger { .. } => &mut found.fingers,
                    Kind::Open => &mut found.open,
                    Kind::String => &mut found.strings,
                };
                counts.0 += 1;
                counts.1 += right(free);
                if *kind == (Kind::Finger { locked: false }) {
                    found.half.0 += 1;
                    found.half.1 += right(half);
                }
            }
        }
    }
    found
}

/// What every grip costs.
pub(super) fn strains(counts: &[Vec<(u16, i16)>], weights: &Weights) -> Vec<i64> {
    let cost = |(slot, n): &(u16, i16)| i64::from(weights.points()[usize::from(*slot)]) * i64::from(*n);
    counts.iter().map(|counts| counts.iter().map(cost).sum()).collect()
}

/// The marks of a layer that are locked when every second one is.
fn locked(layer: &Layer) -> u32 {
    let locked = |kind: &Kind| *kind == Kind::Finger { locked: true };
    layer.marks.iter().enumerate().filter(|(_, kind)| locked(kind)).map(|(bit, _)| 1 << bit).sum()
}

/// The nodes of the cheapest way through a passage; ties go to the first.
pub(super) fn easiest(
    reach: &Reach,
    passage: &[Layer],
    strains: &[i64],
    locked: impl Fn(&Layer) -> u32,
) -> Vec<usize> {
    let mut costs: Vec<i64> = vec![0];
    let mut ways: Vec<Vec<u32>> = Vec::with_capacity(passage.len());
    let mut before = None;
    for layer in passage {
        let pace = Pace::new(reach, layer.milliseconds);
        let kept = locked(layer);
        let mut best = vec![(i64::MAX, 0); layer.nodes.len()];
        for group in &layer.groups {
            for &node in &group.nodes {
                let this = &layer.nodes[node as usize];
                let alone =
                    strains[this.grip as usize] + LOCKED * i64::from((this.wrong & kept).count_ones());
                for &from in &group.from {
                    let moved = match before {
                        None => pace.total(
                            &handspan_core::grip::HandAt::holding(reach, &handspan_core::grip::Grip::SILENT),
                            &this.hand,
                        ),
                        Some(layer) => {
                            let layer: &Layer = layer;
                            pace.total(&layer.nodes[from as usize].hand, &this.hand)
                        }
                    };
                    let cost = costs[from as usize] + alone + i64::from(moved);
                    let best = &mut best[node as usize];
                    if (cost, from) < *best {
                        *best = (cost, from);
                    }
                }
            }
        }
        costs = best.iter().map(|(cost, _)| *cost).collect();
        ways.push(best.iter().map(|(_, from)| *from).collect());
        before = Some(layer);
    }
    let mut at = (0..costs.len()).min_by_key(|node| costs[*node]).unwrap_or(0);
    let mut route: Vec<usize> = Vec::with_capacity(ways.len());
    for from in ways.iter().rev() {
        route.push(at);
        at = from[at] as usize;
    }
    route.reverse();
    route
}
