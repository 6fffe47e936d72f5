//! The states of one moment, each by its cheapest way from the moment before.

use super::crowd::{Arrival, Crowd, Gauge, Transitions, Way};
use super::known::Pace;
use super::lines::LineStrings;
use super::search::Step;
use super::weighing::Weighing;
use crate::grip::{Grip, HandAt, Reach};
use crate::neck::{Fret, StringIndex};

/// A state: what the hand holds at a moment, and the cheapest way there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct State {
    pub(super) key: Key,
    pub(super) cost: i64,
    /// The index of the state before.
    pub(super) from: u32,
}

/// What tells states apart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Key {
    pub(super) grip: Grip,
    pub(super) melody: Option<StringIndex>,
    pub(super) bass: Option<StringIndex>,
    pub(super) lines: LineStrings,
    /// Where the hand stands: where it stood last while no finger is down.
    position: Option<Fret>,
}

impl State {
    /// A state to set out from.
    pub(super) const fn at(key: Key) -> Self {
        Self { key, cost: 0, from: 0 }
    }
}

impl Key {
    pub(super) const NOTHING: Self =
        Self { grip: Grip::SILENT, melody: None, bass: None, lines: LineStrings::NONE, position: None };

    /// The state of written music that these steps lead to.
    pub(super) fn after(steps: &[Step]) -> Self {
        let position = steps.iter().rev().find_map(|step| step.grip.position());
        let grip = steps.last().map_or(Grip::SILENT, |step| step.grip);
        Self { grip, position, ..Self::NOTHING }
    }

    pub(super) fn hand(&self, reach: &Reach) -> HandAt {
        HandAt::holding(reach, &self.grip).coming_from(self.position)
    }

    /// The key as a number: states are sorted by it, and by it alone ties are broken.
    pub(super) fn packed(&self) -> u128 {
        let string = |s: Option<StringIndex>| s.map_or(0, |s| u128::from(s.number()));
        let position = self.position.map_or(0, |fret| 1 + u128::from(fret.number()));
        self.lines.packed() << 112
            | self.grip.packed() << 16
            | string(self.melody) << 12
            | string(self.bass) << 8
            | position
    }
}

/// The cheapest state of the last layer.
pub(super) fn cheapest(layers: &[Vec<State>]) -> Option<&State> {
    cheapest_of(layers.last()?)
}

/// The cheapest state of a layer.
pub(super) fn cheapest_of(layer: &[State]) -> Option<&State> {
    layer.iter().min_by_key(|state| (state.cost, state.key.packed()))
}

/// A grip to come to, and what it costs by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Target {
    pub(super) grip: Grip,
    pub(super) melody: Option<StringIndex>,
    pub(super) bass: Option<StringIndex>,
    pub(super) lines: LineStrings,
    /// As the weighing of the layer counts it.
    pub(super) cost: i64,
}

/// A state that has been reached in one way; others may reach it too.
struct Reached {
    key: Key,
    arrival: Arrival,
}

/// The states of a moment being gathered.
pub(super) struct Layer<'a> {
    gauge: Gauge<'a>,
    /// The hands of the layer before.
    hands: &'a [HandAt],
    transitions: &'a mut Transitions,
    reached: Vec<Reached>,
}

impl<'a> Layer<'a> {
    /// Nothing gathered yet.
    pub(super) const fn new(
        weighing: Weighing,
        pace: &'a Pace,
        hands: &'a [HandAt],
        transitions: &'a mut Transitions,
    ) -> Self {
        Self { gauge: Gauge { weighing, pace }, hands, transitions, reached: Vec::new() }
    }

    /// What best means.
    pub(super) const fn weighing(&self) -> Weighing {
        self.gauge.weighing
    }

    /// What a grip adds to the cost of a way by itself.
    pub(super) const fn own(&self, cost: i64, bass_lost: bool) -> i64 {
        self.gauge.weighing.own(cost, bass_lost)
    }

    /// The hand of a state of the layer before.
    pub(super) const fn hands(&self) -> &'a [HandAt] {
        self.hands
    }

    /// The best way from a crowd to a hand; none where no move is allowed.
    fn best(&mut self, crowd: &Crowd, hand: &HandAt) -> Option<Arrival> {
        crowd.best(self.gauge, hand, &mut self.transitions.looked_at)
    }

    /// Adds a target by its best way from a crowd.
    ///
    /// With no finger down the hand stays where it was: then every position is a state of its own.
    pub(super) fn add_best(&mut self, target: &Target, hand: &HandAt, crowd: &Crowd) {
        self.transitions.all += crowd.len() as u64;
        if hand.position().is_some() {
            if let Some(arrival) = self.best(crowd, hand) {
                self.add(target, hand, arrival);
            }
            return;
        }
        let looked_at = &mut self.transitions.looked_at;
        for arrival in crowd.best_from_everywhere(self.gauge, hand, looked_at) {
            let reached = reached(target, hand, arrival);
            self.reached.push(reached);
        }
    }

    /// Adds a target that is come to by few ways.
    ///
    /// A hand with a finger down stands at one place, whichever way it came: then the best way alone is kept.
    pub(super) fn add_from(&mut self, target: &Target, hand: &HandAt, ways: impl Iterator<Item = Way>) {
        let Gauge { weighing, pace } = self.gauge;
        let stands = hand.position().is_some();
        let mut best: Option<Arrival> = None;
        for (so_far, index) in ways {
            self.transitions.all += 1;
            self.transitions.looked_at += 1;
            let from = &self.hands[index as usize];
            let Some(cost) = weighing.moved(so_far, pace.total(from, hand)) else { continue };
            let arrival = Arrival { cost, way: (so_far, index), position: from.position() };
            if !stands {
                self.add(target, hand, arrival);
            } else if best.is_none_or(|best| self.gauge.is_better(&arrival, &best)) {
                best = Some(arrival);
            }
        }
        if let Some(best) = best {
            self.add(target, hand, best);
        }
    }

    /// Adds a target as it is arrived at.
    fn add(&mut self, target: &Target, hand: &HandAt, arrival: Arrival) {
        self.reached.push(reached(target, hand, arrival));
    }

    /// One state for every key, by its cheapest way, in the order of their keys.
    pub(super) fn into_states(self) -> Vec<State> {
        let mut order: Vec<(u128, u32)> = self.reached.iter().map(|r| r.key.packed()).zip(0..).collect();
        // What comes from one list is in order already, which a stable sort makes use of.
        order.sort_by_key(|(packed, _)| *packed);
        let best = |same: &[(u128, u32)]| {
            let ways = same.iter().map(|(_, index)| &self.reached[*index as usize]);
            let best = ways.min_by_key(|r| (r.arrival.cost, r.arrival.way));
            best.map(|r| State { key: r.key, cost: r.arrival.cost, from: r.arrival.way.1 })
        };
        order.chunk_by(|(a, _), (b, _)| a == b).filter_map(best).collect()
    }
}

fn reached(target: &Target, hand: &HandAt, arrival: Arrival) -> Reached {
    let Target { grip, melody, bass, lines, cost } = *target;
    let position = hand.coming_from(arrival.position).position();
    let key = Key { grip, melody, bass, lines, position };
    Reached { key, arrival: Arrival { cost: arrival.cost + cost, ..arrival } }
}
