//! The states of one moment, each by its cheapest way from the moment before.

use super::crowd::{Arrival, Crowd, Gauge, Prices, Way};
use super::desk::{Desk, Desks};
use super::known::Pace;
use super::lines::LineStrings;
use super::search::Step;
use super::weighing::Weighing;
use crate::grip::{ByGroup, Departures, Grip, HandAt, Reach};
use crate::neck::{Fret, StringIndex};
use crate::watch::{Piece, Watch};

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
    /// Nothing held, and nowhere stood yet.
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

    /// Whether this is [its hand](Self::hand): a hand knows its grip and where it stands, and nothing else matters.
    pub(super) fn is_held_by(&self, hand: &HandAt) -> bool {
        *hand.grip() == self.grip && hand.position() == self.position
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
pub(super) struct Reached {
    key: Key,
    hand: HandAt,
    arrival: Arrival,
}

impl Reached {
    /// What it costs to be there.
    pub(super) const fn cost(&self) -> i64 {
        self.arrival.cost
    }
}

/// Fewer things are done sooner by one than by several (measured).
const WORTH_SHARING: usize = 64;

/// Among so few ways the best is found sooner by working out every move than by the tables of all (measured).
const FEW: usize = 8;

/// What the states of a moment are gathered from, the same for everybody who gathers.
#[derive(Clone, Copy)]
struct Setting<'a> {
    weighing: Weighing,
    pace: &'a Pace,
    /// The hands of the layer before.
    departures: &'a Departures,
}

/// The states of a moment being gathered.
pub(super) struct Layer<'a> {
    setting: Setting<'a>,
    desks: &'a mut Desks,
    lately: &'a mut Vec<HandAt>,
    watch: &'a dyn Watch,
}

impl<'a> Layer<'a> {
    /// Nothing gathered yet.
    pub(super) const fn new(
        weighing: Weighing,
        pace: &'a Pace,
        departures: &'a Departures,
        desks: &'a mut Desks,
        lately: &'a mut Vec<HandAt>,
        watch: &'a dyn Watch,
    ) -> Self {
        Self { setting: Setting { weighing, pace, departures }, desks, lately, watch }
    }

    /// What best means.
    pub(super) const fn weighing(&self) -> Weighing {
        self.setting.weighing
    }

    /// What a grip adds to the cost of a way by itself.
    pub(super) const fn own(&self, cost: i64, bass_lost: bool) -> i64 {
        self.setting.weighing.own(cost, bass_lost)
    }

    /// Into how many pieces so much work is worth splitting.
    pub(super) fn pieces(&self, things: usize) -> usize {
        (things / WORTH_SHARING).clamp(1, self.watch.at_once())
    }

    /// Gathers states at one desk.
    pub(super) fn alone<T>(&self, work: impl FnOnce(&mut Gatherer<'_>) -> T) -> T {
        self.desks.at_one(|desk| work(&mut Gatherer { setting: self.setting, desk }))
    }

    /// Gathers states piece by piece, several at once where processors are lent and there are things enough to do. The
    /// order makes no difference: of equal states the best stays.
    pub(super) fn share<P: Send>(
        &self,
        things: usize,
        pieces: impl IntoIterator<Item = P>,
        work: impl Fn(&mut Gatherer<'_>, P) + Sync,
    ) {
        if self.pieces(things) == 1 {
            self.alone(|gatherer| pieces.into_iter().for_each(|piece| work(gatherer, piece)));
            return;
        }
        let Self { setting, ref desks, .. } = *self;
        let work = &work;
        let piece = |piece: P| -> Piece<'_> {
            Box::new(move || desks.at_one(|desk| work(&mut Gatherer { setting, desk }, piece)))
        };
        self.watch.side_by_side(pieces.into_iter().map(piece).collect());
    }

    /// One state for every key, by its cheapest way, in the order of their keys.
    pub(super) fn into_states(self) -> Vec<State> {
        let reached = self.desks.clear();
        let mut order: Vec<(u128, u32)> = reached.iter().map(|r| r.key.packed()).zip(0..).collect();
        // What comes from one list is in order already, which a stable sort makes use of.
        order.sort_by_key(|(packed, _)| *packed);
        let best = |same: &[(u128, u32)]| {
            let ways = same.iter().map(|(_, index)| &reached[*index as usize]);
            let best = ways.min_by_key(|r| (r.arrival.cost, r.arrival.way));
            best.map(|r| (State { key: r.key, cost: r.arrival.cost, from: r.arrival.way.1 }, r.hand))
        };
        let (states, lately) = order.chunk_by(|(a, _), (b, _)| a == b).filter_map(best).unzip();
        *self.lately = lately;
        states
    }
}

/// Somebody at a desk who gathers states of a moment.
pub(super) struct Gatherer<'a> {
    setting: Setting<'a>,
    desk: &'a mut Desk,
}

impl Gatherer<'_> {
    /// What a grip adds to the cost of a way by itself.
    pub(super) const fn own(&self, cost: i64, bass_lost: bool) -> i64 {
        self.setting.weighing.own(cost, bass_lost)
    }

    /// What holding a grip costs, all terms together.
    pub(super) fn effort(&mut self, reach: &Reach, grip: &Grip) -> i64 {
        self.desk.efforts.of(reach, grip)
    }

    /// Adds a target by its best way from a crowd, one of many targets.
    ///
    /// With no finger down the hand stays where it was: then every position is a state of its own.
    pub(super) fn add_best(&mut self, target: &Target, hand: &HandAt, crowd: &mut Crowd) -> &[Reached] {
        if crowd.gathered().len() <= FEW {
            return self.add_from(target, hand, crowd.gathered().iter().copied(), i64::MAX);
        }
        let Setting { weighing, pace, departures } = self.setting;
        let fares = &mut self.desk.fares;
        let towards = fares.towards(departures, pace, hand);
        let least = fares.least(departures, pace, &towards);
        let gauge = Gauge { weighing, pace, departures, prices: Prices::Parts(fares, &towards) };
        let mut looked_at = 0;
        let arrivals = best_ways(hand, crowd, gauge, &least, &mut looked_at);
        self.count(crowd.gathered().len() as u64, looked_at);
        self.add(target, hand, arrivals.into_iter())
    }

    /// Adds a target by its best way from a crowd, one of few targets: tables of all moves would not be worth making.
    pub(super) fn add_one(&mut self, target: &Target, hand: &HandAt, crowd: &mut Crowd) -> &[Reached] {
        let Setting { weighing, pace, departures } = self.setting;
        if weighing != Weighing::TOTAL {
            // Bounds say less of the hardest move, and so many moves are looked at that tables are worth making.
            return self.add_best(target, hand, crowd);
        }
        let least = self.desk.fares.least_of_any(departures, pace, hand);
        let gauge = Gauge { weighing, pace, departures, prices: Prices::Whole(hand) };
        let mut looked_at = 0;
        let arrivals = best_ways(hand, crowd, gauge, &least, &mut looked_at);
        self.count(crowd.gathered().len() as u64, looked_at);
        self.add(target, hand, arrivals.into_iter())
    }

    const fn count(&mut self, all: u64, looked_at: u64) {
        self.desk.transitions.all += all;
        self.desk.transitions.looked_at += looked_at;
    }

    /// Adds a target that is come to by few ways, where it costs no more than so much.
    ///
    /// A hand with a finger down stands at one place, whichever way it came: then the best way alone is kept.
    pub(super) fn add_from(
        &mut self,
        target: &Target,
        hand: &HandAt,
        ways: impl Iterator<Item = Way>,
        most: i64,
    ) -> &[Reached] {
        let Setting { weighing, pace, departures } = self.setting;
        let stands = hand.position().is_some();
        let (mut all, mut looked_at) = (0, 0);
        let (mut best, mut everywhere) = (None, Vec::new());
        let least = pace.least(hand);
        let worth_a_look = most.saturating_sub(target.cost + i64::from(least));
        for way in ways {
            all += 1;
            let bound = weighing.moved(way.0, least);
            let is_hopeless = |best: &Arrival| bound.is_none_or(|bound| bound > best.cost);
            if way.0 > worth_a_look || best.as_ref().is_some_and(is_hopeless) {
                continue;
            }
            looked_at += 1;
            let from = &departures.hands()[way.1 as usize];
            let Some(cost) = weighing.moved(way.0, pace.total(from, hand)) else { continue };
            let arrival = Arrival { cost, way, position: from.position() };
            if !stands {
                everywhere.push(arrival);
            } else if best.is_none_or(|best| arrival.is_better(&best, weighing)) {
                best = Some(arrival);
            }
        }
        self.count(all, looked_at);
        let arrivals = best.into_iter().chain(everywhere);
        self.add(target, hand, arrivals.filter(|arrival| arrival.cost + target.cost <= most))
    }

    /// Adds a target as it is arrived at.
    fn add(&mut self, target: &Target, hand: &HandAt, arrivals: impl Iterator<Item = Arrival>) -> &[Reached] {
        let before = self.desk.reached.len();
        self.desk.reached.extend(arrivals.map(|arrival| reached(target, hand, arrival)));
        &self.desk.reached[before..]
    }
}

/// The best way to a hand from a crowd; from every position where no finger of it is down.
fn best_ways(
    hand: &HandAt,
    crowd: &mut Crowd,
    gauge: Gauge<'_>,
    least: &ByGroup,
    looked_at: &mut u64,
) -> Vec<Arrival> {
    if hand.position().is_some() {
        crowd.best(gauge, least, looked_at).into_iter().collect()
    } else {
        crowd.best_from_everywhere(gauge, least, looked_at)
    }
}

fn reached(target: &Target, hand: &HandAt, arrival: Arrival) -> Reached {
    let Target { grip, melody, bass, lines, cost } = *target;
    let hand = hand.coming_from(arrival.position);
    let key = Key { grip, melody, bass, lines, position: hand.position() };
    Reached { key, hand, arrival: Arrival { cost: arrival.cost + cost, ..arrival } }
}
