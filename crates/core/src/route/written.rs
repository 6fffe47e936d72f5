//! The easiest route through written music: the same layers, with every pitch demanded.
//!
//! A hand goes on as long as it can. Where no grip keeps everything that sounds on, whichever way the hand came, the
//! least that makes one possible is let go.

use super::crowd::{Crowd, Transitions, Way};
use super::known::Known;
use super::layer::{Key, State, Target, cheapest};
use super::letting_go::{LetGo, each_kept, each_let_go};
use super::lines::LineStrings;
use super::search::{Impasse, Route, Step};
use super::shapes::Shapes;
use super::weighing::Weighing;
use crate::demand::written::{Harmonic, WrittenDemand, WrittenNote};
use crate::grip::fingering::fingerings_of;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, GripTerm, HandAt, Reach, StringSet};
use crate::neck::FretSet;
use crate::pitch::Pitch;
use crate::plan::Aim;
use crate::watch::{Unwatched, Watch};

/// Written music as the search sees it.
pub(super) struct Music<'a> {
    pub(super) demands: &'a [WrittenDemand],
    pub(super) shapes: Shapes,
}

/// The easiest route through written music. None when the watch stopped it.
///
/// # Errors
/// Names the first demand whose struck notes no hand can hold, even when everything else is let go.
pub fn easiest_written(
    reach: &Reach,
    demands: &[WrittenDemand],
    aim: Aim,
    watch: &dyn Watch,
) -> Result<Option<Route>, Impasse> {
    Ok(easiest_written_counted(reach, demands, aim, watch)?.map(|(route, _)| route))
}

/// The easiest route, and how many transitions were looked at to find it.
///
/// As in `search`, the gentlest hardest move is found before the least total of all routes without a harder one.
///
/// # Errors
/// As [`easiest_written`].
pub fn easiest_written_counted(
    reach: &Reach,
    demands: &[WrittenDemand],
    aim: Aim,
    watch: &dyn Watch,
) -> Result<Option<(Route, Transitions)>, Impasse> {
    let mut known = Known::new(reach);
    let music = Music { demands, shapes: Shapes::new(reach, demands) };
    let weighing = match aim {
        Aim::LeastTotal => Weighing::TOTAL,
        Aim::Gentlest => {
            let Some(gentlest) = pass(&mut known, Weighing::HardestMove, &music, watch)? else {
                return Ok(None);
            };
            Weighing::no_harder_than(cheapest(&gentlest).map_or(0, |state| state.cost))
        }
    };
    let layers = pass(&mut known, weighing, &music, watch)?;
    Ok(layers.map(|layers| (trace(&mut known, &music, &layers), known.transitions())))
}

/// Every grip that plays a moment's notes and keeps `kept` as it is.
///
/// The right hand can touch one string at a time: there is none for two artificial harmonics.
pub fn written_grips(reach: &Reach, kept: &Grip, struck: &[WrittenNote], mut found: impl FnMut(Grip)) {
    if struck.iter().filter(|note| note.harmonic == Some(Harmonic::Artificial)).count() > 1 {
        return;
    }
    place(reach, kept, struck, (Grip::SILENT, FretSet::ALL), &mut |wanted| {
        fingerings_of(reach, &wanted, kept, |grip| {
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

/// Lays the notes on free strings in every way that is not beyond every hand; `within` are the frets that one reaches
/// besides those so far.
fn place(
    reach: &Reach,
    kept: &Grip,
    left: &[WrittenNote],
    (so_far, within): (Grip, FretSet),
    found: &mut impl FnMut(Grip),
) {
    let Some((note, rest)) = left.split_first() else {
        found(so_far);
        return;
    };
    for (string, hold) in note.holds(reach.instrument()) {
        let is_free = kept.hold(string).is_none() && so_far.hold(string).is_none();
        if is_free && within.contains(hold.fret()) {
            let mut more = so_far;
            more.set(string, Some(hold));
            // The thumb may stand apart from the rest.
            let around = if reach.hand().thumb { FretSet::ALL } else { reach.around(hold.fret()) };
            place(reach, kept, rest, (more, within.intersection(around)), found);
        }
    }
}

/// The strings of a grip that sound one of these pitches.
pub(super) fn strings_of(reach: &Reach, grip: &Grip, pitches: &[Pitch]) -> StringSet {
    let is_one = |string, hold| reach.sounds(string, hold).is_some_and(|pitch| pitches.contains(&pitch));
    let wanted = grip.holds().filter(|(string, hold)| is_one(*string, *hold));
    wanted.map(|(string, _)| string).collect()
}

/// The states of every moment, the empty beginning first. None when stopped.
fn pass(
    known: &mut Known,
    weighing: Weighing,
    music: &Music<'_>,
    watch: &dyn Watch,
) -> Result<Option<Vec<Vec<State>>>, Impasse> {
    let mut layers = vec![vec![State::at(Key::NOTHING)]];
    for (index, demand) in music.demands.iter().enumerate() {
        if watch.should_stop() {
            return Ok(None);
        }
        let before = &layers[index];
        let mut next = advance(known, weighing, before, music, index, LetGo::NOTHING);
        if next.is_empty() {
            let more = each_let_go(&known.reach, before, demand).into_iter();
            let mut others = more.map(|let_go| advance(known, weighing, before, music, index, let_go));
            next = others.find(|layer| !layer.is_empty()).ok_or(Impasse { demand: index })?;
        }
        layers.push(next);
        watch.progress(index + 1, music.demands.len());
    }
    Ok(Some(layers))
}

/// Every state of the next moment that lets go of exactly so much.
pub(super) fn advance(
    known: &mut Known,
    weighing: Weighing,
    before: &[State],
    music: &Music<'_>,
    index: usize,
    let_go: LetGo,
) -> Vec<State> {
    let demand = &music.demands[index];
    let (reach, _, layer) = known.set_out(weighing, before, demand.milliseconds, &Unwatched);
    let mut ways: Vec<(Grip, Way)> = Vec::with_capacity(before.len());
    for (state, index) in before.iter().zip(0..) {
        each_kept(reach, &state.key.grip, demand, let_go, |kept| ways.push((kept, (state.cost, index))));
    }
    ways.sort_by_key(|(kept, _)| kept.packed());
    layer.alone(|gatherer| {
        let mut crowd = Crowd::default();
        for group in ways.chunk_by(|(a, _), (b, _)| a == b) {
            crowd.gather(group.iter().map(|(_, way)| *way));
            written_grips(reach, &group[0].0, &demand.struck, |grip| {
                let shape = music.shapes.effort(reach, index, &grip).points();
                let effort = gatherer.effort(reach, &grip);
                let cost = gatherer.own(effort + i64::from(shape), false);
                let target = Target { grip, melody: None, bass: None, lines: LineStrings::NONE, cost };
                gatherer.add_best(&target, &HandAt::holding(reach, &grip), &mut crowd);
            });
        }
    });
    layer.into_states()
}

/// Walks back from the cheapest last state.
fn trace(known: &mut Known, music: &Music<'_>, layers: &[Vec<State>]) -> Route {
    let Some(end) = cheapest(layers) else { return Route { steps: Vec::new(), cost: 0, proven: true } };
    let mut steps = Vec::with_capacity(music.demands.len());
    let mut state = end;
    for (index, before) in layers[..music.demands.len()].iter().enumerate().rev() {
        let before = &before[state.from as usize];
        steps.push(step(known, music, index, &before.key, &state.key));
        state = before;
    }
    steps.reverse();
    Route { steps, cost: end.cost, proven: true }
}

/// A step of a route, from one state to the next.
pub(super) fn step(known: &mut Known, music: &Music<'_>, index: usize, before: &Key, key: &Key) -> Step {
    let demand = &music.demands[index];
    let reach = &known.reach;
    let pitches: Vec<Pitch> = demand.struck.iter().map(|note| note.pitch).collect();
    let struck = strings_of(reach, &key.grip, &pitches);
    let mut effort = grip_effort(reach, &key.grip);
    effort.add(GripTerm::Shape, music.shapes.effort(reach, index, &key.grip).points());
    Step {
        grip: key.grip,
        struck,
        melody: struck.iter().next(),
        bass: None,
        lines: LineStrings::NONE,
        effort,
        moved: known.paces.of(reach, demand.milliseconds).effort(&before.hand(reach), &key.hand(reach)),
    }
}
