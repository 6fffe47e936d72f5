//! The easiest route through written music: the same layers, with every pitch demanded.
//!
//! Nothing gives way here. Where no hand can go on, the route is cut: what rang is let go, and the hand begins anew.
//! Going as far as possible before each cut makes the fewest.

use super::crowd::{Crowd, Transitions, Way};
use super::known::Known;
use super::layer::{Key, Layer, State, Target, cheapest};
use super::lines::LineStrings;
use super::search::{Impasse, Step};
use super::weighing::Weighing;
use crate::demand::written::{WrittenDemand, WrittenNote};
use crate::grip::fingering::fingerings;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, HandAt, Reach, StringSet, Voicing};
use crate::neck::Place;
use crate::pitch::Pitch;
use crate::plan::Aim;
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
    aim: Aim,
    watch: &dyn Watch,
) -> Result<Option<Vec<WrittenPassage>>, Impasse> {
    Ok(easiest_written_counted(reach, demands, aim, watch)?.map(|(passages, _)| passages))
}

/// The easiest routes, and how many transitions were looked at to find them.
///
/// # Errors
/// As [`easiest_written`].
pub fn easiest_written_counted(
    reach: &Reach,
    demands: &[WrittenDemand],
    aim: Aim,
    watch: &dyn Watch,
) -> Result<Option<(Vec<WrittenPassage>, Transitions)>, Impasse> {
    let mut known = Known::new(reach);
    let mut passages = Vec::new();
    let mut first = 0;
    while first < demands.len() {
        let Some(layers) = passage(&mut known, &demands[first..], aim, watch) else { return Ok(None) };
        let reached = layers.len() - 1;
        if reached == 0 {
            return Err(Impasse { demand: first });
        }
        passages.push(trace(&mut known, &demands[first..first + reached], &layers, first));
        first += reached;
        watch.progress(first, demands.len());
    }
    Ok(Some((passages, known.transitions)))
}

/// The layers of the next passage, as far as a hand can go, the empty beginning first. None when stopped.
///
/// As in `search`, the gentlest hardest move is found before the least total of all routes without a harder one.
fn passage(
    known: &mut Known,
    demands: &[WrittenDemand],
    aim: Aim,
    watch: &dyn Watch,
) -> Option<Vec<Vec<State>>> {
    if aim == Aim::LeastTotal {
        return farthest(known, Weighing::TOTAL, demands, watch);
    }
    let gentlest = farthest(known, Weighing::HardestMove, demands, watch)?;
    let hardest = cheapest(&gentlest).map_or(0, |state| state.cost);
    farthest(known, Weighing::no_harder_than(hardest), &demands[..gentlest.len() - 1], watch)
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
    // Most notes carry no mark, and then there is nothing to look for.
    let is_plain = note.string.is_none() && note.mark.is_none();
    is_plain || strings_of(reach, grip, &[note.pitch]).iter().all(|string| note.is_kept_by(grip, string))
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
fn farthest(
    known: &mut Known,
    weighing: Weighing,
    demands: &[WrittenDemand],
    watch: &dyn Watch,
) -> Option<Vec<Vec<State>>> {
    let mut layers = vec![vec![State { key: Key::NOTHING, cost: 0, from: 0 }]];
    for (index, demand) in demands.iter().enumerate() {
        if watch.should_stop() {
            return None;
        }
        let next = advance(known, weighing, &layers[index], demand, index == 0);
        if next.is_empty() {
            break;
        }
        layers.push(next);
    }
    Some(layers)
}

/// Every state of the next moment. At the beginning of a passage nothing sounds on.
pub(super) fn advance(
    known: &mut Known,
    weighing: Weighing,
    before: &[State],
    demand: &WrittenDemand,
    begins: bool,
) -> Vec<State> {
    let Known { reach, paces, efforts, transitions, .. } = known;
    let reach: &Reach = reach;
    let sounding_on = if begins { &[] } else { demand.sounding_on.as_slice() };
    let kept = |grip: &Grip| grip.only(strings_of(reach, grip, sounding_on));
    let mut ways: Vec<(Grip, Way)> =
        before.iter().zip(0..).map(|(state, index)| (kept(&state.key.grip), (state.cost, index))).collect();
    ways.sort_by_key(|(kept, _)| kept.packed());
    let hands: Vec<HandAt> = before.iter().map(|state| state.key.hand(reach)).collect();
    let mut layer = Layer::new(weighing, paces.of(reach, demand.milliseconds), &hands, transitions);
    let mut crowd = Crowd::default();
    for group in ways.chunk_by(|(a, _), (b, _)| a == b) {
        crowd.gather(group.iter().map(|(_, way)| *way), &hands);
        written_grips(reach, &group[0].0, &demand.struck, |grip| {
            let cost = layer.own(efforts.of(reach, &grip), false);
            let target = Target { grip, melody: None, bass: None, lines: LineStrings::NONE, cost };
            layer.add_best(&target, &HandAt::holding(reach, &grip), &crowd);
        });
    }
    layer.into_states()
}

/// Walks back from the cheapest last state.
fn trace(
    known: &mut Known,
    demands: &[WrittenDemand],
    layers: &[Vec<State>],
    first: usize,
) -> WrittenPassage {
    let Some(end) = cheapest(layers) else { return WrittenPassage { first, steps: Vec::new(), cost: 0 } };
    let mut steps = Vec::with_capacity(demands.len());
    let mut state = end;
    for (demand, before) in demands.iter().zip(layers).rev() {
        let before = &before[state.from as usize];
        steps.push(step(known, demand, &before.key, &state.key));
        state = before;
    }
    steps.reverse();
    WrittenPassage { first, steps, cost: end.cost }
}

/// A step of a route, from one state to the next.
pub(super) fn step(known: &mut Known, demand: &WrittenDemand, before: &Key, key: &Key) -> Step {
    let reach = &known.reach;
    let pitches: Vec<Pitch> = demand.struck.iter().map(|note| note.pitch).collect();
    let struck = strings_of(reach, &key.grip, &pitches);
    Step {
        grip: key.grip,
        struck,
        melody: struck.iter().next(),
        bass: None,
        lines: LineStrings::NONE,
        effort: grip_effort(reach, &key.grip),
        moved: known.paces.of(reach, demand.milliseconds).effort(&before.hand(reach), &key.hand(reach)),
    }
}
