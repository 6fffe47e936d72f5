//! The easiest route: exact, over every grip of every moment.
//!
//! Moments are layers. A state of a layer is what the hand holds there; a stroke of the accompaniment begins anew
//! (only a melody note that sounds on is kept), and between strokes the melody goes over what rings. What rings may
//! stay as long as string, finger and reach allow; it is let go in part rank: all that can stay stays, or the bass
//! alone, or nothing. For every state the cheapest way to it is kept, so the last layer's cheapest state ends the
//! easiest route of all. Ties go to the smaller state, then to the smaller predecessor.

use super::candidates::{self, Candidate};
use super::worth;
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::can_hold;
use crate::grip::moves::{HandAt, move_effort};
use crate::grip::strain::{grip_effort, placing};
use crate::grip::{Grip, GripEffort, Hold, MoveEffort, Reach, StringSet};
use crate::hand::Finger;
use crate::neck::{Fret, Place, StringIndex};
use crate::time::Ticks;
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

/// A state: what the hand holds at a moment, and the cheapest way there.
#[derive(Clone, Copy, Debug)]
struct State {
    key: Key,
    cost: i64,
    from: u32,
}

/// What tells states apart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Key {
    grip: Grip,
    melody: Option<StringIndex>,
    bass: Option<StringIndex>,
    /// Where the hand stands: where it stood last while no finger is down.
    position: Option<Fret>,
}

/// None when stopped.
fn solve(
    reach: &Reach,
    demands: &[Demand],
    most_states: Option<usize>,
    watch: &dyn Watch,
) -> Result<Option<Route>, Impasse> {
    let nothing = Key { grip: Grip::SILENT, melody: None, bass: None, position: None };
    let mut layers = vec![vec![State { key: nothing, cost: 0, from: 0 }]];
    for (index, demand) in demands.iter().enumerate() {
        if watch.should_stop() {
            return Ok(None);
        }
        let mut layer = match layers.last() {
            Some(before) => advance(reach, before, demand),
            None => Vec::new(),
        };
        if layer.is_empty() {
            return Err(Impasse { demand: index });
        }
        if let Some(most) = most_states.filter(|most| *most < layer.len()) {
            layer.sort_unstable_by_key(|state| (state.cost, state.key));
            layer.truncate(most);
        }
        layers.push(layer);
        watch.progress(index + 1, demands.len());
    }
    Ok(Some(trace(reach, demands, &layers, most_states.is_none())))
}

/// Walks back from the cheapest last state.
fn trace(reach: &Reach, demands: &[Demand], layers: &[Vec<State>], proven: bool) -> Route {
    let end = layers.last().map_or(&[][..], Vec::as_slice);
    let cheapest = (0..end.len()).min_by_key(|i| (end[*i].cost, end[*i].key)).unwrap_or(0);
    let cost = end.get(cheapest).map_or(0, |state| state.cost);
    let mut steps = Vec::with_capacity(demands.len());
    let mut at = cheapest;
    for (index, demand) in demands.iter().enumerate().rev() {
        let state = layers[index + 1][at];
        let before = layers[index][state.from as usize];
        steps.push(step(reach, demand, &before.key, &state.key));
        at = state.from as usize;
    }
    steps.reverse();
    Route { steps, cost, proven }
}

fn step(reach: &Reach, demand: &Demand, before: &Key, key: &Key) -> Step {
    let from = HandAt { grip: &before.grip, position: before.position };
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
        moved: move_effort(reach, from, &key.grip, demand.milliseconds),
    }
}

/// Every state of the next moment, each by its cheapest way.
fn advance(reach: &Reach, before: &[State], demand: &Demand) -> Vec<State> {
    match demand.accompaniment {
        Some(_) => strike(reach, before, demand),
        None => sing(reach, before, demand),
    }
}

/// A stroke of the accompaniment: whatever rang has ended, but for a melody note that sounds on.
fn strike(reach: &Reach, before: &[State], demand: &Demand) -> Vec<State> {
    let Some(wanted) = demand.accompaniment else {
        return Vec::new();
    };
    let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
    let kept = |state: &State| {
        let melody = state.key.melody.filter(|_| sounds_on);
        melody.map_or(Grip::SILENT, |string| state.key.grip.only([string].into_iter().collect()))
    };
    let mut groups: std::collections::BTreeMap<Grip, Vec<u32>> = std::collections::BTreeMap::new();
    for (index, state) in before.iter().enumerate() {
        groups.entry(kept(state)).or_default().push(index as u32);
    }
    let mut layer = Layer::default();
    for (held, mut from) in groups {
        from.sort_unstable_by_key(|index| (before[*index as usize].cost, *index));
        for candidate in candidates::strokes(reach, demand, wanted, &held) {
            cheapest_way(reach, before, &from, demand, &candidate, &mut layer);
        }
    }
    layer.into_states()
}

/// Adds a candidate by its cheapest predecessor, looking at them in order of cost and no farther than could matter.
fn cheapest_way(
    reach: &Reach,
    before: &[State],
    from: &[u32],
    demand: &Demand,
    candidate: &Candidate,
    layer: &mut Layer,
) {
    let lost = if candidate.bass.is_none() { BASS_LOST } else { 0 };
    let own = candidate.cost + lost;
    let position = reach.position(&candidate.grip);
    let gain = i64::from(most_gained(&candidate.grip));
    let mut best: Option<(i64, u32, Option<Fret>)> = None;
    for &index in from {
        let state = &before[index as usize];
        if best.is_some_and(|(cost, ..)| state.cost - gain + own > cost) {
            break;
        }
        let hand = HandAt { grip: &state.key.grip, position: state.key.position };
        let moved = move_effort(reach, hand, &candidate.grip, demand.milliseconds).total().points();
        let here = (state.cost + i64::from(moved) + own, index, position.or(state.key.position));
        if position.is_none() {
            // With no finger down the hand stays where it was: that is a state of its own.
            layer.add(candidate.grip, candidate.melody, candidate.bass, here);
        } else if best.is_none_or(|(cost, ..)| here.0 < cost) {
            best = Some(here);
        }
    }
    if let Some(best) = best {
        layer.add(candidate.grip, candidate.melody, candidate.bass, best);
    }
}

/// The most that a move to a grip can be credited with: every finger stays, and an open string rings.
fn most_gained(grip: &Grip) -> i32 {
    grip.fingers().map(|(finger, ..)| placing(finger) + 2).sum::<i32>() + 2
}

/// States being gathered, several ways to each.
#[derive(Default)]
struct Layer {
    states: Vec<State>,
}

impl Layer {
    fn add(
        &mut self,
        grip: Grip,
        melody: Option<StringIndex>,
        bass: Option<StringIndex>,
        (cost, from, position): (i64, u32, Option<Fret>),
    ) {
        self.states.push(State { key: Key { grip, melody, bass, position }, cost, from });
    }

    /// One state for every key, by its cheapest way.
    fn into_states(mut self) -> Vec<State> {
        self.states.sort_unstable_by_key(|s| (s.key, s.cost, s.from));
        self.states.dedup_by_key(|s| s.key);
        self.states
    }
}

/// A melody note begins over what rings.
fn sing(reach: &Reach, before: &[State], demand: &Demand) -> Vec<State> {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else {
        return Vec::new();
    };
    let mut order: Vec<u32> = (0..before.len() as u32).collect();
    let ringing = |index: u32| rings(reach, &before[index as usize].key, demand);
    order.sort_by_cached_key(|index| ringing(*index));
    let melody_holds = melody_holds(reach, demand, pitch);
    let mut layer = Layer::default();
    for group in order.chunk_by(|a, b| ringing(*a) == ringing(*b)) {
        let ringing = ringing(group[0]);
        for &melody in &melody_holds {
            for (kept, bass, cut) in keeps(reach, &ringing, melody, demand) {
                let grip = kept.with(&Grip::from_holds([melody]));
                let position = reach.position(&grip);
                for &index in group {
                    let state = &before[index as usize];
                    let hand = HandAt { grip: &state.key.grip, position: state.key.position };
                    let moved = move_effort(reach, hand, &grip, demand.milliseconds).total().points();
                    let cost = state.cost + cut + i64::from(moved);
                    layer.add(grip, Some(melody.0), bass, (cost, index, position.or(state.key.position)));
                }
            }
        }
    }
    let mut states = layer.into_states();
    for state in &mut states {
        state.cost += i64::from(grip_effort(reach, &state.key.grip).total().points());
    }
    states
}

/// What may ring on at a moment, and which string of it is the bass.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Ringing {
    grip: Grip,
    bass: Option<StringIndex>,
    /// What the highest strings of it would have cost to cut: they lie above the new melody note.
    cut: i64,
}

/// The accompaniment that rings into a moment, less what lies at or above its melody note.
fn rings(reach: &Reach, key: &Key, demand: &Demand) -> Ringing {
    let mut ringing = Ringing { grip: Grip::SILENT, bass: None, cut: 0 };
    if demand.rings_on() == Ticks::ZERO {
        return ringing;
    }
    for (string, hold) in key.grip.holds().filter(|(string, _)| Some(*string) != key.melody) {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret });
        if pitch < demand.melody.pitch() {
            ringing.grip.set(string, Some(hold));
            ringing.bass = ringing.bass.or(key.bass.filter(|bass| *bass == string));
        } else {
            ringing.cut += worth::cut(key.bass == Some(string), demand.rings_on());
        }
    }
    ringing
}

/// Every way to stop the melody note by itself.
fn melody_holds(reach: &Reach, demand: &Demand, pitch: crate::pitch::Pitch) -> Vec<(StringIndex, Hold)> {
    let mut holds = Vec::new();
    candidates::melody_places(reach, demand, pitch, |place| {
        if place.fret.is_open() {
            holds.push((place.string, Hold::OPEN));
            return;
        }
        let thumb = Some(Finger::Thumb).filter(|_| reach.thumb_may_hold(place.string));
        holds.extend(
            thumb.into_iter().chain(Finger::FOUR).map(|f| (place.string, Hold::stopped(place.fret, f))),
        );
    });
    if let Some(locked) = demand.lock.grip {
        holds.retain(|(string, hold)| locked.hold(*string) == Some(*hold));
    }
    holds
}

/// What may be kept under a melody note, the bass's string, and what the rest costs to let go: all that can stay, the
/// bass alone, nothing.
fn keeps(
    reach: &Reach,
    ringing: &Ringing,
    melody: (StringIndex, Hold),
    demand: &Demand,
) -> Vec<(Grip, Option<StringIndex>, i64)> {
    let tune = Grip::from_holds([melody]);
    let fits = |kept: &Grip, string: StringIndex, hold: Hold| {
        let mut more = kept.with(&tune);
        more.set(string, Some(hold));
        string != melody.0 && can_hold(reach, &more)
    };
    let bass = ringing.bass.and_then(|string| Some((string, ringing.grip.hold(string)?)));
    let mut kept = Grip::SILENT;
    let inner = ringing.grip.holds().filter(|(string, _)| Some(*string) != ringing.bass);
    for (string, hold) in bass.into_iter().chain(inner) {
        if fits(&kept, string, hold) {
            kept.set(string, Some(hold));
        }
    }
    let bass_kept = bass.filter(|(string, _)| kept.hold(*string).is_some());
    let mut options =
        vec![kept, bass_kept.map_or(Grip::SILENT, |hold| Grip::from_holds([hold])), Grip::SILENT];
    options.dedup();
    let cut = |kept: &Grip| {
        let gone = ringing.grip.holds().filter(|(string, _)| kept.hold(*string).is_none());
        gone.map(|(string, _)| worth::cut(ringing.bass == Some(string), demand.rings_on())).sum::<i64>()
    };
    options
        .into_iter()
        .map(|k| (k, ringing.bass.filter(|b| k.hold(*b).is_some()), ringing.cut + cut(&k)))
        .collect()
}
