//! The states of one moment, each by its cheapest way from the moment before.

use super::search::Step;
use crate::grip::moves::{HandAt, Pace};
use crate::grip::{Grip, Reach};
use crate::neck::{Fret, StringIndex};

/// A state: what the hand holds at a moment, and the cheapest way there.
#[derive(Clone, Copy, Debug)]
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
    pub(super) const NOTHING: Self = Self { grip: Grip::SILENT, melody: None, bass: None, position: None };

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
        self.grip.packed() << 16 | string(self.melody) << 12 | string(self.bass) << 8 | position
    }
}

/// A way to come from: what it has cost so far, and the index of its state.
pub(super) type Way = (i64, u32);

/// A grip to come to, and what it costs by itself.
pub(super) struct Target {
    pub(super) grip: Grip,
    pub(super) melody: Option<StringIndex>,
    pub(super) bass: Option<StringIndex>,
    pub(super) cost: i64,
}

/// The states of a moment being gathered.
pub(super) struct Layer<'a> {
    pub(super) reach: &'a Reach,
    /// How much time the move has.
    pace: Pace,
    /// The hands of the layer before.
    hands: Vec<HandAt>,
    states: Vec<State>,
}

impl<'a> Layer<'a> {
    /// Nothing gathered yet after these states.
    pub(super) fn after(reach: &'a Reach, before: &[State], milliseconds: i64) -> Self {
        let hands = before.iter().map(|state| state.key.hand(reach)).collect();
        Self { reach, pace: Pace::new(reach, milliseconds), hands, states: Vec::new() }
    }

    /// Adds a target by its cheapest predecessor, looking at them in order of cost and no farther than could matter.
    ///
    /// With no finger down the hand stays where it was: then every position is a state of its own.
    pub(super) fn add_cheapest(&mut self, target: &Target, from: &[Way]) {
        let hand = HandAt::holding(self.reach, &target.grip);
        let least = i64::from(self.pace.least_of_all(&hand));
        let (hands, pace) = (&self.hands, &self.pace);
        let arrive = |index: u32, cost: i64| {
            let position = hand.coming_from(hands[index as usize].position()).position();
            let key = Key { grip: target.grip, melody: target.melody, bass: target.bass, position };
            State { key, cost, from: index }
        };
        let mut best: Option<Way> = None;
        for &(so_far, index) in from {
            if best.is_some_and(|(cost, _)| so_far + target.cost + least > cost) {
                break;
            }
            let moved = pace.total(&hands[index as usize], &hand);
            let cost = so_far + target.cost + i64::from(moved);
            if hand.position().is_none() {
                self.states.push(arrive(index, cost));
            } else if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, index));
            }
        }
        self.states.extend(best.map(|(cost, index)| arrive(index, cost)));
    }

    /// One state for every key, by its cheapest way.
    pub(super) fn into_states(mut self) -> Vec<State> {
        self.states.sort_unstable_by_key(|s| (s.key.packed(), s.cost, s.from));
        self.states.dedup_by_key(|s| s.key);
        self.states
    }
}
