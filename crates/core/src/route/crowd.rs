//! The ways before a move, in the order in which they are worth a look.
//!
//! Ways are grouped by where their hand stands, and sorted by what they have cost so far. The bounds of a pace say
//! what a move from a position costs at the least; where even that is no better than the best found, the rest of the
//! group is skipped (predecessors in order of cost with an early stop: Carpe Diem, Esposito and Radicioni 2009).

use super::known::Pace;
use super::weighing::Weighing;
use crate::grip::HandAt;
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
    fn is_better(self, one: &Arrival, other: &Arrival) -> bool {
        let ties = self.weighing.tells_ways_apart();
        one.cost < other.cost || (ties && one.cost == other.cost && one.way < other.way)
    }

    /// Whether nothing that costs so much at least can be better than the best so far.
    fn is_hopeless(self, least: Option<i64>, best: &Arrival) -> bool {
        let ties = self.weighing.tells_ways_apart();
        least.is_none_or(|least| least > best.cost || (!ties && least == best.cost))
    }
}

struct Member {
    hand: HandAt,
    way: Way,
}

/// The ways whose hand stands at one position.
struct Group {
    position: Option<Fret>,
    members: std::ops::Range<usize>,
    /// What the cheapest of them has cost.
    least: i64,
}

/// Ways to come from.
#[derive(Default)]
pub(super) struct Crowd {
    members: Vec<Member>,
    groups: Vec<Group>,
}

impl Crowd {
    /// Gathers these ways; `hands` has the hand of every state.
    pub(super) fn gather(&mut self, ways: impl IntoIterator<Item = Way>, hands: &[HandAt]) {
        self.members.clear();
        self.members.extend(ways.into_iter().map(|way| Member { hand: hands[way.1 as usize], way }));
        self.members.sort_unstable_by_key(|member| (member.hand.position(), member.way));
        self.groups.clear();
        let mut first = 0;
        for group in self.members.chunk_by(|a, b| a.hand.position() == b.hand.position()) {
            let members = first..first + group.len();
            first = members.end;
            self.groups.push(Group { position: group[0].hand.position(), members, least: group[0].way.0 });
        }
        self.groups.sort_unstable_by_key(|group| (group.least, group.position));
    }

    /// How many ways there are.
    pub(super) const fn len(&self) -> usize {
        self.members.len()
    }

    /// The best way to a hand; none where every move is dearer than allowed.
    pub(super) fn best(&self, gauge: Gauge<'_>, hand: &HandAt, looked_at: &mut u64) -> Option<Arrival> {
        let least_of_all = gauge.pace.least_of_all(hand);
        let mut best = None;
        for group in &self.groups {
            let bound = gauge.weighing.moved(group.least, least_of_all);
            if best.is_some_and(|best: Arrival| gauge.is_hopeless(bound, &best)) {
                break;
            }
            self.best_of(group, gauge, hand, &mut best, looked_at);
        }
        best
    }

    /// The best way to a hand from every position.
    pub(super) fn best_from_everywhere<'a>(
        &'a self,
        gauge: Gauge<'a>,
        hand: &'a HandAt,
        looked_at: &'a mut u64,
    ) -> impl Iterator<Item = Arrival> + 'a {
        self.groups.iter().filter_map(move |group| {
            let mut best = None;
            self.best_of(group, gauge, hand, &mut best, looked_at);
            best
        })
    }

    fn best_of(
        &self,
        group: &Group,
        gauge: Gauge<'_>,
        hand: &HandAt,
        best: &mut Option<Arrival>,
        looked_at: &mut u64,
    ) {
        let least = gauge.pace.least(group.position, hand);
        for Member { hand: from, way } in &self.members[group.members.clone()] {
            let Some(bound) = gauge.weighing.moved(way.0, least) else { return };
            let bound = Arrival { cost: bound, way: *way, position: group.position };
            if best.is_some_and(|best| !gauge.is_better(&bound, &best)) {
                return;
            }
            *looked_at += 1;
            let cost = gauge.weighing.moved(way.0, gauge.pace.total(from, hand));
            let arrival = cost.map(|cost| Arrival { cost, ..bound });
            if arrival.is_some_and(|arrival| best.is_none_or(|best| gauge.is_better(&arrival, &best))) {
                *best = arrival;
            }
        }
    }
}
