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
use crate::route::letting_go::LetGo;
use crate::route::shapes::Shapes;
use crate::route::weighing::Weighing;
use crate::route::written::{Music, advance, step};
use crate::watch::Watch;

/// The best routes through written music that are really different in a part of it, the best first, `count` at most.
///
/// `current` is a route through all demands: the hand comes from where it stands there and goes on as it does there.
/// Each route has at most [`super::MOST_OVERLAP`] of a hundred grips of the part in common with every one before it,
/// and all others from `current`; it lets go of as much where `current` does. There are fewer where no more are different enough, or where the watch stopped the
/// search.
pub fn different_written(
    reach: &Reach,
    demands: &[WrittenDemand],
    current: &[Step],
    within: Range<usize>,
    count: usize,
    watch: &dyn Watch,
) -> Vec<Vec<Step>> {
    let end = end(current, &within);
    let music = Music { demands, shapes: Shapes::within(reach, demands, within.start..end) };
    let mut part = Part { music, current, within, end, known: Known::new(reach) };
    let ways = different(&mut part, Aim::LeastTotal, count, watch).unwrap_or_default();
    ways.iter().map(|way| part.route(way)).collect()
}

struct Part<'a> {
    music: Music<'a>,
    current: &'a [Step],
    within: Range<usize>,
    /// As [`end`] tells.
    end: usize,
    known: Known,
}

/// The end of the moments after a part up to the first at which a finger is down: beyond it nothing depends on the part.
fn end(current: &[Step], within: &Range<usize>) -> usize {
    let after = current.iter().enumerate().skip(within.end);
    let mut stands = after.skip_while(|(_, step)| step.grip.position().is_none());
    stands.next().map_or(current.len(), |(index, _)| index + 1)
}

impl Part<'_> {
    /// The grip that is fixed at a demand after the part.
    fn fixed(&self, demand: usize) -> Option<Grip> {
        (demand >= self.within.end).then(|| self.current[demand].grip)
    }

    /// What the current route lets go of at a demand; a search of the whole music has found that it cannot be less.
    fn let_go(&self, demand: usize) -> LetGo {
        let before = demand.checked_sub(1).map_or(Grip::SILENT, |before| self.current[before].grip);
        LetGo::between(&self.known.reach, &before, &self.current[demand].grip, &self.music.demands[demand])
    }

    /// The current route with the part as it is on a way.
    fn route(&mut self, way: &Way) -> Vec<Step> {
        let mut steps = self.current[..self.within.start].to_vec();
        let moves = way.keys.iter().zip(way.keys.iter().skip(1));
        let part = (self.within.start..self.end).zip(moves);
        steps.extend(part.map(|(index, (from, to))| step(&mut self.known, &self.music, index, from, to)));
        steps.extend_from_slice(&self.current[self.end..]);
        steps
    }
}

impl Field for Part<'_> {
    fn start(&self) -> Key {
        Key::after(&self.current[..self.within.start])
    }

    fn moments(&self) -> usize {
        self.end - self.within.start
    }

    fn counts(&self, moment: usize) -> bool {
        moment < self.within.len()
    }

    fn advance(&mut self, weighing: Weighing, moment: usize, before: &[State]) -> Vec<State> {
        let index = self.within.start + moment;
        let let_go = self.let_go(index);
        let mut after = advance(&mut self.known, weighing, before, &self.music, index, let_go);
        let fixed = self.fixed(index);
        after.retain(|state| fixed.is_none_or(|grip| state.key.grip == grip));
        after
    }

    fn moved(&mut self, moment: usize, from: &Key, to: &Key) -> i32 {
        self.known.moved(self.music.demands[self.within.start + moment].milliseconds, from, to)
    }
}
