//! Different routes through a part of written music.

use std::ops::Range;

use super::field::Field;
use super::{Way, different};
use crate::demand::WrittenDemand;
use crate::grip::{Grip, Reach};
use crate::plan::Aim;
use crate::route::Step;
use crate::route::known::Known;
use crate::route::layer::{Key, State};
use crate::route::weighing::Weighing;
use crate::route::written::{WrittenPassage, advance, step};
use crate::watch::Watch;

/// The best routes through a part of written music that are really different, the best first, `count` at most.
///
/// `current` is a route through all demands: the hand comes from where it stands there and goes on as it does there.
/// Each route has at most [`super::MOST_OVERLAP`] of a hundred grips in common with every one before it; its cost
/// covers the moves into the part, within it and out of it. There are fewer where no more are different enough, or
/// where the watch stopped the search.
pub fn different_written(
    reach: &Reach,
    demands: &[WrittenDemand],
    current: &[Step],
    within: Range<usize>,
    count: usize,
    watch: &dyn Watch,
) -> Vec<WrittenPassage> {
    let mut part = Part { demands, current, within, known: Known::new(reach) };
    let ways = different(&mut part, Aim::LeastTotal, count, watch).unwrap_or_default();
    ways.iter().map(|way| part.passage(way)).collect()
}

struct Part<'a> {
    demands: &'a [WrittenDemand],
    current: &'a [Step],
    within: Range<usize>,
    known: Known<'a>,
}

impl Part<'_> {
    /// The moments after the part up to the first at which a finger is down: beyond it nothing depends on the part.
    fn end(&self) -> usize {
        let after = self.current.iter().enumerate().skip(self.within.end);
        let mut stands = after.skip_while(|(_, step)| step.grip.position().is_none());
        stands.next().map_or(self.demands.len(), |(index, _)| index + 1)
    }

    /// The grip that is fixed at a demand after the part.
    fn fixed(&self, demand: usize) -> Option<Grip> {
        (demand >= self.within.end).then(|| self.current[demand].grip)
    }

    fn passage(&mut self, way: &Way) -> WrittenPassage {
        let moves = way.keys.iter().zip(way.keys.iter().skip(1));
        let steps = self.demands[self.within.clone()].iter().zip(moves);
        let steps = steps.map(|(demand, (from, to))| step(&mut self.known, demand, from, to)).collect();
        WrittenPassage { first: self.within.start, steps, cost: way.cost }
    }
}

impl Field for Part<'_> {
    fn start(&self) -> Key {
        Key::after(&self.current[..self.within.start])
    }

    fn moments(&self) -> usize {
        self.end() - self.within.start
    }

    fn counts(&self, moment: usize) -> bool {
        moment < self.within.len()
    }

    fn advance(&mut self, weighing: Weighing, moment: usize, before: &[State]) -> Vec<State> {
        let index = self.within.start + moment;
        let mut after = advance(&mut self.known, weighing, before, &self.demands[index], index == 0);
        let fixed = self.fixed(index);
        after.retain(|state| fixed.is_none_or(|grip| state.key.grip == grip));
        after
    }
    fn moved(&mut self, moment: usize, from: &Key, to: &Key) -> i32 {
        self.known.moved(self.demands[self.within.start + moment].milliseconds, from, to)
    }
}
