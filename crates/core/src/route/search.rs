//! The easiest route: exact, over every grip of every moment.
//!
//! Moments are layers. A state of a layer is what the hand holds there; a stroke of the accompaniment begins anew
//! (only a melody note that sounds on is kept), and between strokes the melody goes over what rings. What rings may
//! stay as long as string, finger and reach allow; it is let go in part rank: all that can stay stays, or the bass
//! alone, or nothing. For every state the cheapest way to it is kept, so the last layer's cheapest state ends the
//! easiest route of all. Ties go to the smaller state, then to the smaller predecessor.

use std::collections::{BTreeMap, BTreeSet};

use super::candidates::{Candidate, Strokes};
use super::layer::{Key, Layer, State, Target, Way};
use super::singing::sing;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::moves::move_effort;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, GripEffort, MoveEffort, Reach, StringSet};
use crate::neck::StringIndex;
use crate::watch::Watch;

/// A bass that gives way weighs more than any effort: parts of higher rank come first.
const BASS_LOST: i64 = 1_000_000;
/// How many states of a layer the first, hurried pass keeps.
const HURRIED: usize = 48;

/// One moment of a route.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Step {
    /// Everything that sounds.
    pub grip: Grip,
    /// The strings struck at this moment.
    pub struck: StringSet,
    /// The melody's string.
    pub melody: Option<StringIndex>,
    /// The string of the bass that sounds.
    pub bass: Option<StringIndex>,
    /// What the grip costs.
    pub effort: GripEffort,
    /// What the move from the moment before costs.
    pub moved: MoveEffort,
}

/// One grip for every moment.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Route {
    /// A step for every demand.
    pub steps: Vec<Step>,
    /// Effort, worth and give-ways together: what the search made smallest.
    pub cost: i64,
    /// Whether no route is cheaper; false when the search was stopped and this is the best so far.
    pub proven: bool,
}

/// Why there is no route: at this demand nothing is left that keeps every lock.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Impasse {
    /// The index of the demand.
    pub demand: usize,
}

/// The easiest route through all demands.
///
/// Stopped early, it gives the best route of a first, hurried pass and does not call it proven.
///
/// # Errors
/// Where locks leave nothing that a hand can hold.
pub fn easiest(reach: &Reach, demands: &[Demand], watch: &dyn Watch) -> Result<Route, Impasse> {
    if let Some(route) = solve(reach, demands, None, watch)? {
        return Ok(route);
    }
    let hurried = solve(reach, demands, Some(HURRIED), &crate::watch::Unwatched)?;
    hurried.ok_or(Impasse { demand: 0 })
}

/// None when stopped.
fn solve(
    reach: &Reach,
    demands: &[Demand],
    most_states: Option<usize>,
    watch: &dyn Watch,
) -> Result<Option<Route>, Impasse> {
    let mut layers = vec![vec![State { key: Key::NOTHING, cost: 0, from: 0 }]];
    let mut strokes = Strokes::new(reach);
    for (index, demand) in demands.iter().enumerate() {
        if watch.should_stop() {
            return Ok(None);
        }
        let mut layer = match layers.last() {
            Some(before) => advance(reach, &mut strokes, before, demand),
            None => Vec::new(),
        };
        if layer.is_empty() {
            return Err(Impasse { demand: index });
        }
        if let Some(most) = most_states.filter(|most| *most < layer.len()) {
            hurry(&mut layer, most);
        }
        layers.push(layer);
        watch.progress(index + 1, demands.len());
    }
    Ok(Some(trace(reach, demands, &layers, most_states.is_none())))
}

/// Keeps the cheapest states of a layer, and the cheapest of every way to hold the melody: under a melody note that
/// sounds on a locked grip may leave room for one of them alone.
fn hurry(layer: &mut Vec<State>, most: usize) {
    layer.sort_unstable_by_key(|state| (state.cost, state.key.packed()));
    let mut melodies = BTreeSet::new();
    let mut rank = 0;
    layer.retain(|State { key, .. }| {
        rank += 1;
        melodies.insert(key.melody.map(|string| (string, key.grip.hold(string)))) || rank <= most
    });
}

/// Walks back from the cheapest last state.
fn trace(reach: &Reach, demands: &[Demand], layers: &[Vec<State>], proven: bool) -> Route {
    let end = layers.last().map_or(&[][..], Vec::as_slice);
    let cheapest = (0..end.len()).min_by_key(|i| (end[*i].cost, end[*i].key.packed())).unwrap_or(0);
    let cost = end.get(cheapest).map_or(0, |state| state.cost);
    let mut steps = Vec::with_capacity(demands.len());
    let mut at = cheapest;
    for (index, demand) in demands.iter().enumerate().rev() {
        let state = layers[index + 1][at];
        let before = layers[index][state.from as usize];
        steps.push(step(reach, demand, &before, &state));
        at = state.from as usize;
    }
    steps.reverse();
    Route { steps, cost, proven }
}

pub(super) fn step(reach: &Reach, demand: &Demand, before: &State, state: &State) -> Step {
    let key = &state.key;
    let melody_begins = matches!(demand.melody, MelodyDemand::Begins { .. });
    let mut struck = if demand.accompaniment.is_some() { key.grip.strings() } else { StringSet::EMPTY };
    if let Some(melody) = key.melody {
        if melody_begins {
            struck.insert(melody);
        } else {
            struck.remove(melody);
        }
    }
    Step {
        grip: key.grip,
        struck,
        melody: key.melody,
        bass: key.bass,
        effort: grip_effort(reach, &key.grip),
        moved: move_effort(reach, &before.key.hand(reach), &key.hand(reach), demand.milliseconds),
    }
}

/// Every state of the next moment, each by its cheapest way.
pub(super) fn advance(
    reach: &Reach,
    strokes: &mut Strokes<'_>,
    before: &[State],
    demand: &Demand,
) -> Vec<State> {
    let mut layer = Layer::after(reach, before, demand.milliseconds);
    match demand.accompaniment {
        Some(wanted) => strike(&mut layer, strokes, before, demand, wanted),
        None => sing(&mut layer, before, demand),
    }
    layer.into_states()
}

/// A stroke of the accompaniment: whatever rang has ended, but for a melody note that sounds on.
fn strike(
    layer: &mut Layer<'_>,
    strokes: &mut Strokes<'_>,
    before: &[State],
    demand: &Demand,
    wanted: Accompaniment,
) {
    let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
    let kept = |key: &Key| {
        let melody = key.melody.filter(|_| sounds_on);
        melody.map_or(Grip::SILENT, |string| key.grip.only([string].into_iter().collect()))
    };
    let mut ways: BTreeMap<Grip, Vec<Way>> = BTreeMap::new();
    for (state, index) in before.iter().zip(0..) {
        ways.entry(kept(&state.key)).or_default().push((state.cost, index));
    }
    for (held, mut from) in ways {
        from.sort_unstable();
        for candidate in strokes.of(demand, wanted, &held) {
            let lost = if candidate.bass.is_none() { BASS_LOST } else { 0 };
            let Candidate { grip, melody, bass, cost, .. } = *candidate;
            layer.add_cheapest(&Target { grip, melody, bass, cost: cost + lost }, &from);
        }
    }
}
