//! The easiest route: exact, over every grip of every moment.
//!
//! Moments are layers. A state of a layer is what the hand holds there; a stroke of the accompaniment begins anew
//! (only a melody note that sounds on is kept), and between strokes the melody goes over what rings. What rings may
//! stay as long as string, finger and reach allow; it is let go in part rank: all that can stay stays, or the bass
//! alone, or nothing. For every state the cheapest way to it is kept, so the last layer's cheapest state ends the
//! easiest route of all. Ties go to the smaller state, then to the smaller predecessor.

use std::collections::{BTreeMap, BTreeSet};

use super::candidates::{self, Candidate, Strokes};
use super::worth;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::fingering::{Held, can_hold};
use crate::grip::moves::{HandAt, move_effort};
use crate::grip::strain::{grip_effort, placing};
use crate::grip::{Grip, GripEffort, Hold, MoveEffort, Reach, StringSet};
use crate::hand::Finger;
use crate::neck::{Fret, Place, StringIndex};
use crate::pitch::Pitch;
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
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Key {
    grip: Grip,
    melody: Option<StringIndex>,
    bass: Option<StringIndex>,
    /// Where the hand stands: where it stood last while no finger is down.
    position: Option<Fret>,
}

impl Key {
    const NOTHING: Self = Self { grip: Grip::SILENT, melody: None, bass: None, position: None };

    fn hand(&self, reach: &Reach) -> HandAt {
        HandAt::holding(reach, &self.grip).coming_from(self.position)
    }

    /// The key as a number: states are sorted by it, and by it alone ties are broken.
    fn packed(&self) -> u128 {
        let string = |s: Option<StringIndex>| s.map_or(0, |s| u128::from(s.number()));
        let position = self.position.map_or(0, |fret| 1 + u128::from(fret.number()));
        self.grip.packed() << 16 | string(self.melody) << 12 | string(self.bass) << 8 | position
    }
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

fn step(reach: &Reach, demand: &Demand, before: &State, state: &State) -> Step {
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
fn advance(reach: &Reach, strokes: &mut Strokes<'_>, before: &[State], demand: &Demand) -> Vec<State> {
    let hands = before.iter().map(|state| state.key.hand(reach)).collect();
    let mut layer = Layer { reach, demand, hands, states: Vec::new() };
    match demand.accompaniment {
        Some(wanted) => strike(&mut layer, strokes, before, wanted),
        None => sing(&mut layer, before),
    }
    layer.into_states()
}

/// A way to come from: what it has cost so far, and the index of its state.
type Way = (i64, u32);

/// A stroke of the accompaniment: whatever rang has ended, but for a melody note that sounds on.
fn strike(layer: &mut Layer<'_>, strokes: &mut Strokes<'_>, before: &[State], wanted: Accompaniment) {
    let sounds_on = matches!(layer.demand.melody, MelodyDemand::SoundsOn { .. });
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
        for candidate in strokes.of(layer.demand, wanted, &held) {
            let lost = if candidate.bass.is_none() { BASS_LOST } else { 0 };
            let Candidate { grip, melody, bass, cost, .. } = *candidate;
            layer.add_cheapest(&Target { grip, melody, bass, cost: cost + lost }, &from);
        }
    }
}

/// A melody note begins over what rings.
fn sing(layer: &mut Layer<'_>, before: &[State]) {
    let MelodyDemand::Begins { pitch, .. } = layer.demand.melody else { return };
    let (reach, demand) = (layer.reach, layer.demand);
    let mut ringing: Vec<(Ringing, Way)> = before
        .iter()
        .zip(0..)
        .map(|(state, index)| (rings(reach, &state.key, demand), (state.cost, index)))
        .collect();
    ringing.sort_unstable_by_key(|(ringing, way)| (ringing.grip.packed(), ringing.bass, *way));
    let melody_holds = melody_holds(reach, demand, pitch);
    // What rings, less what no longer may: everything, the bass alone, nothing.
    let mut kept: BTreeMap<(Grip, Option<StringIndex>), Vec<Way>> = BTreeMap::new();
    for (ringing, (cost, index)) in &ringing {
        let mut keep = |grip: Grip, bass| {
            let cut = ringing.cut(&grip, demand);
            kept.entry((grip, bass)).or_default().push((cost + cut, *index));
        };
        keep(Grip::SILENT, None);
        if let Some(bass) = ringing.bass {
            keep(ringing.grip.only([bass].into_iter().collect()), Some(bass));
        }
    }
    for ((grip, bass), mut from) in kept {
        from.sort_unstable();
        for &melody in &melody_holds {
            layer.add_melody(&grip, bass, melody, &from);
        }
    }
    for group in ringing.chunk_by(|(a, _), (b, _)| a.grip == b.grip && a.bass == b.bass) {
        sing_over_most(layer, group, &melody_holds);
    }
}

/// A melody note over as much as can be kept of what rings, for all states in which the same rings.
fn sing_over_most(layer: &mut Layer<'_>, group: &[(Ringing, Way)], melody_holds: &[(StringIndex, Hold)]) {
    let Some((ringing, _)) = group.first() else { return };
    let Some(held) = Held::new(layer.reach, &ringing.grip) else { return };
    for &melody in melody_holds {
        let all_stays = held.takes(melody.0, melody.1);
        let most = if all_stays { ringing.grip } else { ringing.most_kept(layer.reach, melody) };
        let bass = ringing.bass.filter(|bass| most.hold(*bass).is_some());
        if most.len() > usize::from(bass.is_some()) {
            let ways = group
                .iter()
                .map(|(ringing, (cost, index))| (cost + ringing.cut(&most, layer.demand), *index));
            let mut from: Vec<Way> = ways.collect();
            // What lay above and has ended is not the same for all: the order of cost is a new one.
            from.sort_unstable();
            layer.add_held_melody(&most, bass, melody, &from);
        }
    }
}

/// A grip to come to, and what it costs by itself.
struct Target {
    grip: Grip,
    melody: Option<StringIndex>,
    bass: Option<StringIndex>,
    cost: i64,
}

/// The most that a move to a hand can be credited with: every finger stays or guides, and an open string rings.
fn most_gained(hand: &HandAt) -> i32 {
    hand.digits().iter().map(|(finger, ..)| placing(finger) + 2).sum::<i32>() + 2
}

/// The states of a moment being gathered.
struct Layer<'a> {
    reach: &'a Reach,
    demand: &'a Demand,
    /// The hands of the layer before.
    hands: Vec<HandAt>,
    states: Vec<State>,
}

impl Layer<'_> {
    /// Adds a melody note over what is kept, if a hand can hold both.
    fn add_melody(
        &mut self,
        kept: &Grip,
        bass: Option<StringIndex>,
        melody: (StringIndex, Hold),
        from: &[Way],
    ) {
        if Held::new(self.reach, kept).is_some_and(|held| held.takes(melody.0, melody.1)) {
            self.add_held_melody(kept, bass, melody, from);
        }
    }

    /// Adds a melody note over what is kept, known to be held together.
    fn add_held_melody(
        &mut self,
        kept: &Grip,
        bass: Option<StringIndex>,
        melody: (StringIndex, Hold),
        from: &[Way],
    ) {
        let grip = kept.with(&Grip::from_holds([melody]));
        let cost = i64::from(grip_effort(self.reach, &grip).total().points());
        self.add_cheapest(&Target { grip, melody: Some(melody.0), bass, cost }, from);
    }

    /// Adds a target by its cheapest predecessor, looking at them in order of cost and no farther than could matter.
    ///
    /// With no finger down the hand stays where it was: then every position is a state of its own.
    fn add_cheapest(&mut self, target: &Target, from: &[Way]) {
        let hand = HandAt::holding(self.reach, &target.grip);
        let gain = i64::from(most_gained(&hand));
        let (hands, reach, time) = (&self.hands, self.reach, self.demand.milliseconds);
        let arrive = |index: u32, cost: i64| {
            let position = hand.coming_from(hands[index as usize].position()).position();
            let key = Key { grip: target.grip, melody: target.melody, bass: target.bass, position };
            State { key, cost, from: index }
        };
        let mut best: Option<Way> = None;
        for &(so_far, index) in from {
            if best.is_some_and(|(cost, _)| so_far + target.cost - gain > cost) {
                break;
            }
            let moved = move_effort(reach, &hands[index as usize], &hand, time).total().points();
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
    fn into_states(mut self) -> Vec<State> {
        self.states.sort_unstable_by_key(|s| (s.key.packed(), s.cost, s.from));
        self.states.dedup_by_key(|s| s.key);
        self.states
    }
}

/// What may ring on at a moment.
#[derive(Clone, Copy)]
struct Ringing {
    grip: Grip,
    /// The bass's string, while it rings.
    bass: Option<StringIndex>,
    /// What it costs that some of it lies at or above the new melody note and has to end.
    above: i64,
}

impl Ringing {
    /// The most of it that a hand can keep under a melody note: the bass first, then inner notes from the highest.
    fn most_kept(&self, reach: &Reach, (string, hold): (StringIndex, Hold)) -> Grip {
        let mut grip = Grip::from_holds([(string, hold)]);
        let bass = self.bass.and_then(|bass| Some((bass, self.grip.hold(bass)?)));
        let inner = self.grip.holds().filter(|(inner, _)| Some(*inner) != self.bass);
        for (other, hold) in bass.into_iter().chain(inner).filter(|(other, _)| *other != string) {
            grip.set(other, Some(hold));
            if !can_hold(reach, &grip) {
                grip.set(other, None);
            }
        }
        grip.set(string, None);
        grip
    }

    /// What it costs to keep only so much of it.
    fn cut(&self, kept: &Grip, demand: &Demand) -> i64 {
        let gone = self.grip.holds().filter(|(string, _)| kept.hold(*string).is_none());
        self.above
            + gone.map(|(string, _)| worth::cut(self.bass == Some(string), demand.rings_on())).sum::<i64>()
    }
}

/// The accompaniment that rings into a moment, less what lies at or above its melody note.
fn rings(reach: &Reach, key: &Key, demand: &Demand) -> Ringing {
    let mut ringing = Ringing { grip: Grip::SILENT, bass: None, above: 0 };
    if demand.rings_on() == Ticks::ZERO {
        return ringing;
    }
    for (string, hold) in key.grip.holds().filter(|(string, _)| Some(*string) != key.melody) {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret });
        if pitch < demand.melody.pitch() {
            ringing.grip.set(string, Some(hold));
        } else {
            ringing.above += worth::cut(key.bass == Some(string), demand.rings_on());
        }
    }
    ringing.bass = key.bass.filter(|bass| ringing.grip.hold(*bass).is_some());
    ringing
}

/// Every way to stop the melody note by itself.
fn melody_holds(reach: &Reach, demand: &Demand, pitch: Pitch) -> Vec<(StringIndex, Hold)> {
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
