//! The ways before a move, in the order in which they are worth a look.
//!
//! Ways are grouped as their hands are, and sorted by what they have cost so far. The tables of moves say what a move
//! from a group costs at the least; where even that is no better than the best found, the rest of the group is skipped
//! (predecessors in order of cost with an early stop: Carpe Diem, Esposito and Radicioni 2009).

use super::known::Pace;
use super::weighing::Weighing;
use crate::grip::{ByGroup, Departures, Fares, HandAt, Towards};
use crate::neck::Fret;

/// A way to come from: what it has cost so far, and the index of its state.
pub(super) type Way = (i64, u32);

/// How many transitions a search could have looked at, and how many it did.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Transitions {
    /// Pairs of a state and a grip that may follow it.
    pub all: u64,
    /// Those of which the move was worked out.
    pub looked_at: u64,
}

/// What moves to one hand cost, and how a pass weighs them.
#[derive(Clone, Copy)]
pub(super) struct Gauge<'a> {
    pub(super) weighing: Weighing,
    pub(super) pace: &'a Pace,
    pub(super) departures: &'a Departures,
    pub(super) prices: Prices<'a>,
}

/// How moves to one hand are priced.
#[derive(Clone, Copy)]
pub(super) enum Prices<'a> {
    /// By tables of their parts, for many moves.
    Parts(&'a Fares, &'a Towards<'a>),
    /// Each by itself, for few.
    Whole(&'a HandAt),
}

/// The best way to a hand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arrival {
    /// What it costs, the move included.
    pub(super) cost: i64,
    /// The way before the move.
    pub(super) way: Way,
    /// Where the hand stood.
    pub(super) position: Option<Fret>,
}

impl Arrival {
    /// Of two ways of one cost the one that had cost less before the move is better, then that of the smaller state.
    pub(super) fn is_better(&self, other: &Self, weighing: Weighing) -> bool {
        let ties = weighing.tells_ways_apart();
        self.cost < other.cost || (ties && self.cost == other.cost && self.way < other.way)
    }
}

impl Gauge<'_> {
    /// What the move costs with which a way goes on.
    pub(super) fn moved(self, (_, index): Way) -> i32 {
        match self.prices {
            Prices::Parts(fares, towards) => fares.total(index as usize, self.pace, towards),
            Prices::Whole(hand) => self.pace.total(&self.departures.hands()[index as usize], hand),
        }
    }
}

/// The ways whose hands stand at one position.
#[derive(Clone)]
struct Group {
    number: usize,
    position: Option<Fret>,
    ways: std::ops::Range<usize>,
    /// What the cheapest of them has cost.
    least: i64,
    /// Whether they are sorted already: most groups are never asked.
    sorted: bool,
}

/// No finger down yet, or a fret: there are no more groups.
const POSITIONS: usize = Fret::MAX as usize + 1;

/// Ways to come from.
#[derive(Clone, Default)]
pub(super) struct Crowd {
    /// As they came.
    gathered: Vec<Way>,
    /// Group by group, once that is asked for.
    ways: Vec<Way>,
    groups: Vec<Group>,
}

impl Crowd {
    /// Gathers these ways.
    pub(super) fn gather(&mut self, ways: impl IntoIterator<Item = Way>) {
        self.gathered.clear();
        self.gathered.extend(ways);
        self.ways.clear();
        self.groups.clear();
    }

    /// Puts the ways into groups as their hands are.
    fn arrange(&mut self, departures: &Departures) {
        if self.ways.len() == self.gathered.len() {
            return;
        }
        let mut counts = vec![0; departures.groups()];
        let mut least = vec![i64::MAX; departures.groups()];
        for &(cost, index) in &self.gathered {
            let group = departures.group(index as usize);
            counts[group] += 1;
            least[group] = least[group].min(cost);
        }
        let mut all = 0;
        let mut next = vec![0; counts.len()];
        for (number, count) in counts.into_iter().enumerate().filter(|(_, count)| *count > 0) {
            next[number] = all;
            let position = departures.position(number);
            let ways = all..all + count;
            self.groups.push(Group { number, position, ways, least: least[number], sorted: false });
            all += count;
        }
        self.ways.resize(all, (0, 0));
        for way in &self.gathered {
            let next = &mut next[departures.group(way.1 as usize)];
            self.ways[*next] = *way;
            *next += 1;
        }
    }

    /// The ways as they came.
    pub(super) fn gathered(&self) -> &[Way] {
        &self.gathered
    }

    /// The best way to a hand; none where every move is dearer than allowed. No move from a group costs less than
    /// `least` says.
    ///
    /// The group from which a way may cost the least is tried first. None of those that are left out can be better.
    pub(super) fn best(&mut self, gauge: Gauge<'_>, least: &ByGroup, looked_at: &mut u64) -> Option<Arrival> {
        self.arrange(gauge.departures);
        let mut bounds = [i64::MAX; POSITIONS];
        for (bound, group) in bounds.iter_mut().zip(&self.groups) {
            *bound = gauge.weighing.moved(group.least, least[group.number]).unwrap_or(i64::MAX);
        }
        let bounds = &bounds[..self.groups.len()];
        let first = bounds.iter().zip(0..).min()?.1;
        let mut best = None;
        self.best_of((first, least), gauge, &mut best, looked_at);
        for (place, bound) in bounds.iter().enumerate() {
            if place != first && best.is_none_or(|best: Arrival| *bound <= best.cost) {
                self.best_of((place, least), gauge, &mut best, looked_at);
            }
        }
        best
    }

    /// The best way to a hand from every group.
    pub(super) fn best_from_everywhere(
        &mut self,
        gauge: Gauge<'_>,
        least: &ByGroup,
        looked_at: &mut u64,
    ) -> Vec<Arrival> {
        self.arrange(gauge.departures);
        let mut all = Vec::new();
        for place in 0..self.groups.len() {
            let mut best = None;
            self.best_of((place, least), gauge, &mut best, looked_at);
            all.extend(best);
        }
        all
    }

    /// The best way from one group, unless it is no better than `best`.
    fn best_of(
        &mut self,
        (place, least): (usize, &ByGroup),
        gauge: Gauge<'_>,
        best: &mut Option<Arrival>,
        looked_at: &mut u64,
    ) {
        let group = &mut self.groups[place];
        let least = least[group.number];
        let is_hopeless = |way: Way, best: &Option<Arrival>| {
            let bound = gauge.weighing.moved(way.0, least);
            let bound = bound.map(|cost| Arrival { cost, way, position: group.position });
            bound.is_none_or(|bound| best.is_some_and(|best| !bound.is_better(&best, gauge.weighing)))
        };
        if is_hopeless((group.least, 0), best) {
            return;
        }
        let ways = &mut self.ways[group.ways.clone()];
        if !group.sorted {
            ways.sort_unstable();
            group.sorted = true;
        }
        for way in ways {
            if is_hopeless(*way, best) {
                return;
            }
            *looked_at += 1;
            let moved = gauge.moved(*way);
            let Some(cost) = gauge.weighing.moved(way.0, moved) else { continue };
            let arrival = Arrival { cost, way: *way, position: group.position };
            if best.is_none_or(|best| arrival.is_better(&best, gauge.weighing)) {
                *best = Some(arrival);
            }
        }
    }
}
