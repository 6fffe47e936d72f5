//! The ways before a move, in the order in which they are worth a look.
//!
//! Ways are grouped as their hands are, and sorted by what they have cost so far. The tables of moves say what a move
//! from a group costs at the least; where even that is no better than the best found, the rest of the group is skipped
//! (predecessors in order of cost with an early stop: Carpe Diem, Esposito and Radicioni 2009).

use super::known::Pace;
use super::weighing::Weighing;
use crate::grip::{Departures, Towards};
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

/// What a move costs at one pace, and how a pass weighs it.
#[derive(Clone, Copy)]
pub(super) struct Gauge<'a> {
    pub(super) weighing: Weighing,
    pub(super) pace: &'a Pace,
    pub(super) departures: &'a Departures,
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

impl Gauge<'_> {
    /// Of two ways of one cost the one that had cost less before the move is better, then that of the smaller state.
    pub(super) fn is_better(self, one: &Arrival, other: &Arrival) -> bool {
        let ties = self.weighing.tells_ways_apart();
        one.cost < other.cost || (ties && one.cost == other.cost && one.way < other.way)
    }
}

/// The ways whose hands are alike.
struct Group {
    number: usize,
    position: Option<Fret>,
    ways: std::ops::Range<usize>,
    /// What the cheapest of them has cost.
    least: i64,
}

/// Ways to come from.
#[derive(Default)]
pub(super) struct Crowd {
    ways: Vec<(u16, Way)>,
    groups: Vec<Group>,
}

impl Crowd {
    /// Gathers these ways from hands.
    pub(super) fn gather(&mut self, ways: impl IntoIterator<Item = Way>, departures: &Departures) {
        self.ways.clear();
        self.ways.extend(ways.into_iter().map(|way| (departures.group(way.1 as usize), way)));
        self.ways.sort_unstable();
        self.groups.clear();
        let mut first = 0;
        for group in self.ways.chunk_by(|(a, _), (b, _)| a == b) {
            let (number, (least, index)) = group[0];
            let ways = first..first + group.len();
            first = ways.end;
            let position = departures.hands()[index as usize].position();
            self.groups.push(Group { number: usize::from(number), position, ways, least });
        }
    }

    /// How many ways there are.
    pub(super) const fn len(&self) -> usize {
        self.ways.len()
    }

    /// The best way to a hand; none where every move is dearer than allowed. No move from a group costs less than
    /// `least` says.
    ///
    /// The group from which a way may cost the least is tried first. None of those that are left out can be better.
    pub(super) fn best(
        &self,
        gauge: Gauge<'_>,
        towards: &Towards<'_>,
        least: &[i32],
        looked_at: &mut u64,
    ) -> Option<Arrival> {
        let bound = |group: &Group| gauge.weighing.moved(group.least, least[group.number]);
        let bounds = self.groups.iter().filter_map(|group| Some((bound(group)?, group)));
        let (_, first) = bounds.min_by_key(|(bound, _)| *bound)?;
        let mut best = None;
        self.best_of((first, least[first.number]), gauge, towards, &mut best, looked_at);
        for group in self.groups.iter().filter(|group| group.number != first.number) {
            self.best_of((group, least[group.number]), gauge, towards, &mut best, looked_at);
        }
        best
    }

    /// The best way to a hand from every group.
    pub(super) fn best_from_everywhere<'a>(
        &'a self,
        gauge: Gauge<'a>,
        towards: &'a Towards<'_>,
        least: &'a [i32],
        looked_at: &'a mut u64,
    ) -> impl Iterator<Item = Arrival> + 'a {
        self.groups.iter().filter_map(move |group| {
            let mut best = None;
            self.best_of((group, least[group.number]), gauge, towards, &mut best, looked_at);
            best
        })
    }

    /// The best way from one group, from where no move costs less than `least`, unless it is no better than `best`.
    fn best_of(
        &self,
        (group, least): (&Group, i32),
        gauge: Gauge<'_>,
        towards: &Towards<'_>,
        best: &mut Option<Arrival>,
        looked_at: &mut u64,
    ) {
        for (_, way) in &self.ways[group.ways.clone()] {
            let Some(bound) = gauge.weighing.moved(way.0, least) else { return };
            let bound = Arrival { cost: bound, way: *way, position: group.position };
            if best.is_some_and(|best| !gauge.is_better(&bound, &best)) {
                return;
            }
            *looked_at += 1;
            let moved = gauge.departures.total(gauge.pace, way.1 as usize, towards);
            let arrival = gauge.weighing.moved(way.0, moved).map(|cost| Arrival { cost, ..bound });
            if arrival.is_some_and(|arrival| best.is_none_or(|best| gauge.is_better(&arrival, &best))) {
                *best = arrival;
            }
        }
    }
}
