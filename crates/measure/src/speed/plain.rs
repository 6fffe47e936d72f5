//! The same routes by a plain dynamic program: every state of a moment with every grip that may follow it.
//!
//! Nothing is bounded, grouped or left out, and the rules of what may ring on are stated a second time. It is what
//! the search is compared with: the same cost is expected of it, in more time.

use std::collections::BTreeMap;

use handspan_core::demand::{Accompaniment, Demand, MelodyDemand, WrittenDemand};
use handspan_core::grip::fingering::can_hold;
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{Grip, HandAt, Hold, Pace, Reach, StringSet};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Place, StringIndex};
use handspan_core::route::candidates::{self, Strokes};
use handspan_core::route::{Shapes, worth, written_grips};
use handspan_core::time::Ticks;

/// What a bass costs that gives way.
const BASS_LOST: i64 = 1_000_000_000;

/// What tells states apart: the grip, the strings of melody and bass, and where the hand stands.
pub(super) type Key = (Grip, Option<StringIndex>, Option<StringIndex>, Option<Fret>);

/// What plain work found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Plain {
    /// The least that a route costs; none where there is no route.
    pub(super) cost: Option<i64>,
    /// How many moves it worked out.
    pub(super) transitions: u64,
}

/// The states of a moment.
pub(super) struct Moment {
    pub(super) states: Vec<State>,
    /// How many moves were worked out on the way to them.
    pub(super) transitions: u64,
}

pub(super) struct State {
    pub(super) key: Key,
    hand: HandAt,
    pub(super) cost: i64,
}

impl State {
    /// A state to set out from.
    #[cfg(test)]
    pub(super) fn at(reach: &Reach, key: Key) -> Self {
        Self { key, hand: HandAt::holding(reach, &key.0).coming_from(key.3), cost: 0 }
    }

    pub(super) const fn beginning() -> Self {
        Self { key: (Grip::SILENT, None, None, None), hand: HandAt::EMPTY, cost: 0 }
    }
}

/// The states of a moment being gathered, each with the least it costs.
struct Layer<'a> {
    reach: &'a Reach,
    pace: Pace,
    states: BTreeMap<Key, i64>,
    transitions: u64,
}

impl<'a> Layer<'a> {
    fn new(reach: &'a Reach, milliseconds: i64) -> Self {
        Self { reach, pace: Pace::new(reach, milliseconds), states: BTreeMap::new(), transitions: 0 }
    }

    /// Comes to a grip from each of some states.
    fn add<'s>(
        &mut self,
        (grip, melody, bass): (Grip, Option<StringIndex>, Option<StringIndex>),
        cost: i64,
        from: impl Iterator<Item = (&'s State, i64)>,
    ) {
        let hand = HandAt::holding(self.reach, &grip);
        let mut transitions = 0;
        let arrive = |(state, so_far): (&State, i64)| {
            transitions += 1;
            (
                hand.coming_from(state.hand.position()).position(),
                so_far + i64::from(self.pace.total(&state.hand, &hand)),
            )
        };
        let arrivals = from.map(arrive);
        let mut best: Vec<(Option<Fret>, i64)> = if hand.position().is_some() {
            arrivals.min_by_key(|(_, cost)| *cost).into_iter().collect()
        } else {
            arrivals.collect()
        };
        self.transitions += transitions;
        best.sort_unstable();
        best.dedup_by_key(|(position, _)| *position);
        for (position, moved) in best {
            let known = self.states.entry((grip, melody, bass, position)).or_insert(cost + moved);
            *known = (*known).min(cost + moved);
        }
    }

    fn into_moment(self) -> Moment {
        let state = |(key, cost): (Key, i64)| State {
            key,
            cost,
            hand: HandAt::holding(self.reach, &key.0).coming_from(key.3),
        };
        Moment { states: self.states.into_iter().map(state).collect(), transitions: self.transitions }
    }
}

/// The least that a route through all demands costs.
pub(super) fn plain(reach: &Reach, strokes: &mut Strokes, demands: &[Demand]) -> Plain {
    let mut moment = Moment { states: vec![State::beginning()], transitions: 0 };
    let mut transitions = 0;
    for demand in demands {
        moment = follow(reach, strokes, &moment.states, demand);
        transitions += moment.transitions;
    }
    Plain { cost: moment.states.iter().map(|state| state.cost).min(), transitions }
}

/// Every state that may follow, with the least it costs.
pub(super) fn follow(reach: &Reach, strokes: &mut Strokes, before: &[State], demand: &Demand) -> Moment {
    let mut layer = Layer::new(reach, demand.milliseconds);
    match demand.accompaniment {
        Some(wanted) => strike(&mut layer, strokes, before, demand, wanted),
        None => sing(&mut layer, before, demand),
    }
    layer.into_moment()
}

fn strike(
    layer: &mut Layer<'_>,
    strokes: &mut Strokes,
    before: &[State],
    demand: &Demand,
    wanted: Accompaniment,
) {
    let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
    let mut by_held: BTreeMap<Grip, Vec<&State>> = BTreeMap::new();
    for state in before {
        let melody = state.key.1.filter(|_| sounds_on);
        let held = melody.map_or(Grip::SILENT, |string| state.key.0.only(set(string)));
        by_held.entry(held).or_default().push(state);
    }
    for (held, from) in by_held {
        for (candidate, _) in strokes.of(layer.reach, demand, wanted, &held).all() {
            let lost = if candidate.bass.is_none() { BASS_LOST } else { 0 };
            let to = (candidate.grip, candidate.melody, candidate.bass);
            layer.add(to, candidate.cost + lost, from.iter().map(|state| (*state, state.cost)));
        }
    }
}

/// A melody note over what rings: all that can stay stays, or the bass alone, or nothing.
fn sing(layer: &mut Layer<'_>, before: &[State], demand: &Demand) {
    let holds = melody_holds(layer.reach, demand);
    for state in before {
        let rings = ringing(state, demand);
        for melody in &holds {
            let most = most_kept(layer.reach, state, &rings, *melody, demand);
            let bass = state.key.2.map_or(Grip::SILENT, |bass| rings.only(set(bass)));
            let bass = if most.with(&bass) == most { bass } else { Grip::SILENT };
            let mut kept = vec![most, bass, Grip::SILENT];
            kept.dedup();
            for kept in kept {
                let gone = rings.holds().filter(|(string, _)| kept.hold(*string).is_none());
                let cut: i64 =
                    gone.map(|(string, _)| worth::cut(state.key.2 == Some(string), demand.rings_on())).sum();
                let grip = kept.with(&Grip::from_holds([*melody]));
                let effort = i64::from(grip_effort(layer.reach, &grip).total().points());
                let bass = state.key.2.filter(|bass| kept.hold(*bass).is_some());
                let from = std::iter::once((state, state.cost + cut));
                layer.add((grip, Some(melody.0), bass), effort, from);
            }
        }
    }
}

/// What would ring on from a state if nothing were in its way.
fn ringing(state: &State, demand: &Demand) -> Grip {
    if demand.rings_on() == Ticks::ZERO {
        return Grip::SILENT;
    }
    let mut rings = state.key.0;
    if let Some(melody) = state.key.1 {
        rings.set(melody, None);
    }
    rings
}

/// As much of what rings as a hand can keep below a melody note: the bass first, then from the highest string.
fn most_kept(
    reach: &Reach,
    state: &State,
    rings: &Grip,
    melody: (StringIndex, Hold),
    demand: &Demand,
) -> Grip {
    let is_bass = |string: &StringIndex| state.key.2 == Some(*string);
    let below = |(string, hold): &(StringIndex, Hold)| {
        let pitch = hold.sounds(reach.instrument(), *string);
        pitch < demand.melody.pitch() && *string != melody.0
    };
    let mut ranked: Vec<(StringIndex, Hold)> = rings.holds().filter(below).collect();
    ranked.sort_by_key(|(string, _)| !is_bass(string));
    let mut with = Grip::from_holds([melody]);
    for (string, hold) in ranked {
        with.set(string, Some(hold));
        if !can_hold(reach, &with) {
            with.set(string, None);
        }
    }
    with.set(melody.0, None);
    with
}

fn melody_holds(reach: &Reach, demand: &Demand) -> Vec<(StringIndex, Hold)> {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else { return Vec::new() };
    let mut holds = Vec::new();
    candidates::melody_places(reach, demand, pitch, |Place { string, fret }| {
        let digits = [Finger::Thumb].into_iter().chain(Finger::FOUR);
        let stopped = digits.map(|finger| Hold::stopped(fret, finger));
        holds.extend(std::iter::once(Hold::unfingered(fret)).chain(stopped).map(|hold| (string, hold)));
    });
    holds.retain(|(string, hold)| {
        let locked = demand.lock.grip.is_none_or(|grip| grip.hold(*string) == Some(*hold));
        locked && can_hold(reach, &Grip::from_holds([(*string, *hold)]))
    });
    holds
}

/// The least that a route through written music costs that lets nothing go.
pub(super) fn plain_written(reach: &Reach, demands: &[WrittenDemand]) -> Plain {
    let mut moment = Moment { states: vec![State::beginning()], transitions: 0 };
    let mut transitions = 0;
    let shapes = Shapes::new(reach, demands);
    for (index, demand) in demands.iter().enumerate() {
        let shape = |grip: &Grip| i64::from(shapes.effort(reach, index, grip).points());
        moment = strike_written(reach, &moment.states, demand, shape);
        transitions += moment.transitions;
    }
    Plain { cost: moment.states.iter().map(|state| state.cost).min(), transitions }
}

/// Every state of written music that may follow, with the least it costs; `shape` is what a grip costs that does not
/// fit the chord around.
pub(super) fn strike_written(
    reach: &Reach,
    before: &[State],
    demand: &WrittenDemand,
    shape: impl Fn(&Grip) -> i64,
) -> Moment {
    let sounds_on = |grip: &Grip| -> StringSet {
        let sounding = grip.holds().filter(|(string, hold)| {
            let pitch = hold.sounds(reach.instrument(), *string);
            demand.sounding_on.iter().any(|note| Some(note.pitch) == pitch)
        });
        sounding.map(|(string, _)| string).collect()
    };
    let mut by_kept: BTreeMap<Grip, Vec<&State>> = BTreeMap::new();
    for state in before {
        by_kept.entry(state.key.0.only(sounds_on(&state.key.0))).or_default().push(state);
    }
    let mut layer = Layer::new(reach, demand.milliseconds);
    for (kept, from) in by_kept {
        written_grips(reach, &kept, &demand.struck, |grip| {
            let effort = i64::from(grip_effort(reach, &grip).total().points()) + shape(&grip);
            layer.add((grip, None, None), effort, from.iter().map(|state| (*state, state.cost)));
        });
    }
    layer.into_moment()
}

fn set(string: StringIndex) -> StringSet {
    std::iter::once(string).collect()
}
