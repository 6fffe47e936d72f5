//! The easiest route through written music: the same layers, with every pitch demanded.
//!
//! Nothing gives way here. Where no hand can go on, the route is cut: what rang is let go, and the hand begins anew.
//! Going as far as possible before each cut makes the fewest.

use std::collections::BTreeMap;

use super::layer::{Key, Layer, State, Target, Way};
use super::search::{Impasse, Step};
use crate::demand::written::{WrittenDemand, WrittenNote};
use crate::grip::fingering::fingerings;
use crate::grip::moves::move_effort;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, Reach, StringSet, Voicing};
use crate::neck::Place;
use crate::pitch::Pitch;
use crate::watch::Watch;

/// A passage of written music that has a route of its own.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenPassage {
    /// The index of its first demand.
    pub first: usize,
    /// A step for every demand from there on; the melody is the highest note struck.
    pub steps: Vec<Step>,
    /// What the search made smallest: the effort of all grips and moves.
    pub cost: i64,
}

/// The easiest routes through written music, cut at the fewest places.
///
/// None when the watch stopped it.
///
/// # Errors
/// Names the first demand that no hand can meet even when it begins anew there.
pub fn easiest_written(
    reach: &Reach,
    demands: &[WrittenDemand],
    watch: &dyn Watch,
) -> Result<Option<Vec<WrittenPassage>>, Impasse> {
    let mut passages = Vec::new();
    let mut first = 0;
    while first < demands.len() {
        let Some(layers) = farthest(reach, &demands[first..], watch) else { return Ok(None) };
        let reached = layers.len() - 1;
        if reached == 0 {
            return Err(Impasse { demand: first });
        }
        passages.push(trace(reach, &demands[first..first + reached], &layers, first));
        first += reached;
        watch.progress(first, demands.len());
    }
    Ok(Some(passages))
}

/// Every grip that plays a moment's notes and keeps `kept` as it is.
pub fn written_grips(reach: &Reach, kept: &Grip, struck: &[WrittenNote], mut found: impl FnMut(Grip)) {
    place(reach, kept, struck, Voicing::SILENT, &mut |voicing| {
        fingerings(reach, &voicing, kept, |grip| {
            if struck.iter().all(|note| is_kept(reach, &grip, *note)) {
                found(grip);
            }
        });
    });
}

fn is_kept(reach: &Reach, grip: &Grip, note: WrittenNote) -> bool {
    strings_of(reach, grip, &[note.pitch]).iter().all(|string| note.is_kept_by(grip, string))
}

/// Lays the notes on free strings in every way.
fn place(reach: &Reach, kept: &Grip, left: &[WrittenNote], so_far: Voicing, found: &mut impl FnMut(Voicing)) {
    let Some((note, rest)) = left.split_first() else {
        found(so_far);
        return;
    };
    let free = |place: &Place| kept.hold(place.string).is_none() && so_far.fret(place.string).is_none();
    let allowed = |place: &Place| note.string.is_none_or(|only| only == place.string);
    for Place { string, fret } in reach.instrument().places(note.pitch).filter(free).filter(allowed) {
        let mut more = so_far;
        more.set(string, Some(fret));
        place(reach, kept, rest, more, found);
    }
}

/// The strings of a grip that sound one of these pitches.
fn strings_of(reach: &Reach, grip: &Grip, pitches: &[Pitch]) -> StringSet {
    let sounds = |string, fret| reach.instrument().sounding(Place { string, fret });
    let wanted = grip.holds().filter(|(s, hold)| sounds(*s, hold.fret).is_some_and(|p| pitches.contains(&p)));
    wanted.map(|(string, _)| string).collect()
}

/// Layers as far as a hand can go, the empty beginning first. None when stopped.
fn farthest(reach: &Reach, demands: &[WrittenDemand], watch: &dyn Watch) -> Option<Vec<Vec<State>>> {
    let mut layers = vec![vec![State { key: Key::NOTHING, cost: 0, from: 0 }]];
    for (index, demand) in demands.iter().enumerate() {
        if watch.should_stop() {
            return None;
        }
        let before = layers.last().map_or(&[][..], Vec::as_slice);
        let next = advance(reach, before, demand, index == 0);
        if next.is_empty() {
            break;
        }
        layers.push(next);
    }
    Some(layers)
}

/// Every state of the next moment. At the beginning of a passage nothing sounds on.
pub(super) fn advance(reach: &Reach, before: &[State], demand: &WrittenDemand, begins: bool) -> Vec<State> {
    let sounding_on = if begins { &[] } else { demand.sounding_on.as_slice() };
    let mut ways: BTreeMap<Grip, Vec<Way>> = BTreeMap::new();
    for (state, index) in before.iter().zip(0..) {
        let kept = state.key.grip.only(strings_of(reach, &state.key.grip, sounding_on));
        ways.entry(kept).or_default().push((state.cost, index));
    }
    let mut layer = Layer::after(reach, before, demand.milliseconds);
    for (kept, mut from) in ways {
        from.sort_unstable();
        written_grips(reach, &kept, &demand.struck, |grip| {
            let cost = i64::from(grip_effort(reach, &grip).total().points());
            layer.add_cheapest(&Target { grip, melody: None, bass: None, cost }, &from);
        });
    }
    layer.into_states()
}

/// Walks back from the cheapest last state.
fn trace(reach: &Reach, demands: &[WrittenDemand], layers: &[Vec<State>], first: usize) -> WrittenPassage {
    let end = layers.last().map_or(&[][..], Vec::as_slice);
    let mut at = (0..end.len()).min_by_key(|i| (end[*i].cost, end[*i].key.packed())).unwrap_or(0);
    let cost = end.get(at).map_or(0, |state| state.cost);
    let mut steps = Vec::with_capacity(demands.len());
    for (index, demand) in demands.iter().enumerate().rev() {
        let state = &layers[index + 1][at];
        let before = &layers[index][state.from as usize];
        steps.push(step(reach, demand, &before.key, &state.key));
        at = state.from as usize;
    }
    steps.reverse();
    WrittenPassage { first, steps, cost }
}

pub(super) fn step(reach: &Reach, demand: &WrittenDemand, before: &Key, key: &Key) -> Step {
    let pitches: Vec<Pitch> = demand.struck.iter().map(|note| note.pitch).collect();
    let struck = strings_of(reach, &key.grip, &pitches);
    Step {
        grip: key.grip,
        struck,
        melody: struck.iter().next(),
        bass: None,
        effort: grip_effort(reach, &key.grip),
        moved: move_effort(reach, &before.hand(reach), &key.hand(reach), demand.milliseconds),
    }
}
