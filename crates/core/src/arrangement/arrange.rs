//! Tune and plan become an arrangement.

use std::sync::Arc;

use super::arrangement::{Arrangement, Moment, Work};
use super::fingered::finger;
use super::give_ways::give_ways;
use super::impossible::{Impossible, lies_on, transpositions};
use super::line_give_ways::line_give_ways;
use super::notes::{cut_short, notes};
use super::score::Score;
use super::seams::{Tied, easiest_tied};
use crate::demand::{Demand, demands};
use crate::grip::{Grip, Reach};
use crate::pitch::Interval;
use crate::plan::{Aim, Plan};
use crate::route::{Finder, Route, early, right_hand};
use crate::tune::Tune;
use crate::watch::Watch;

/// Arranges a tune as planned: the easiest route for the whole of it, every lock kept.
///
/// Who arranges again and again, after edits, is faster with an [`Arranger`].
///
/// # Errors
/// As [`Arranger::arrange`].
pub fn arrange(work: &Work, watch: &dyn Watch) -> Result<Arrangement, Impossible> {
    Arranger::default().arrange(work, watch)
}

/// Arranges, and remembers what the search has found out: after an edit only what it changes is looked for anew.
///
/// The answer is always that of an arranger that remembers nothing.
#[derive(Debug, Default)]
pub struct Arranger {
    /// What is remembered holds for one instrument under one hand.
    finder: Option<Finder>,
}

impl Arranger {
    /// Arranges a tune as planned: the easiest route for the whole of it, every lock kept.
    ///
    /// A tune that is written out keeps its own notes: it gets strings, frets and fingers, and nothing is added.
    ///
    /// # Errors
    /// Says why there is no arrangement at all. A watch that stops the search is no error: the arrangement is then the
    /// best so far, and not called proven.
    pub fn arrange(&mut self, work: &Work, watch: &dyn Watch) -> Result<Arrangement, Impossible> {
        let tune = sounding(work)?;
        if let Some(written_out) = tune.written_out() {
            return finger(work, &tune, written_out, watch);
        }
        let finder = self.finder(&work.plan);
        let Tied { demands, route } = tied(finder, &tune, &work.plan, watch)?;
        Ok(assemble(finder.reach(), Arc::clone(&tune), &demands, &route))
    }

    /// What is remembered of the instrument and the hand of a plan.
    fn finder(&mut self, Plan { instrument, hand, .. }: &Plan) -> &mut Finder {
        let known = self.finder.take().filter(|finder| {
            let reach = finder.reach();
            reach.instrument() == instrument && reach.hand() == hand
        });
        self.finder.insert(known.unwrap_or_else(|| Finder::new(&Reach::new(instrument, hand))))
    }
}

/// The easiest route, and the demands with every note locked to a string that is tied over a repeat and needs it.
pub(super) fn tied(
    finder: &mut Finder,
    tune: &Tune,
    plan: &Plan,
    watch: &dyn Watch,
) -> Result<Tied, Impossible> {
    let solve = |demands: &[Demand]| easiest(finder, tune, demands, plan.aim, watch);
    let refuse = |demand: &Demand| lock_fault(tune, demand);
    easiest_tied(plan, tune, demands(tune, plan), solve, refuse)
}

/// The tune as it sounds, once every melody note is known to lie on the instrument.
pub(super) fn sounding(work: &Work) -> Result<Arc<Tune>, Impossible> {
    let instrument = &work.plan.instrument;
    if work.tune.melody().is_empty() {
        return Err(Impossible::NoMelody);
    }
    let tune = match work.plan.transpose.semitones() {
        0 => Arc::clone(&work.tune),
        semitones => {
            Arc::new(work.tune.transposed(work.plan.transpose).ok_or(Impossible::BeyondMidi(semitones))?)
        }
    };
    match tune.melody().iter().find(|note| !lies_on(instrument, &tune, note, Interval::default())) {
        None => Ok(tune),
        Some(note) => Err(Impossible::OutOfRange {
            bar_beat: tune.bar_beat(note.at),
            note: note.written,
            transpositions: transpositions(&work.tune, instrument),
        }),
    }
}

pub(super) fn lock_fault(tune: &Tune, demand: &Demand) -> Impossible {
    Impossible::Lock { at: demand.at, bar_beat: tune.bar_beat(demand.at) }
}

fn easiest(
    finder: &mut Finder,
    tune: &Tune,
    demands: &[Demand],
    aim: Aim,
    watch: &dyn Watch,
) -> Result<Route, Impossible> {
    let unpluckable = demands
        .iter()
        .find(|d| d.lock.grip.is_some_and(|g| !right_hand::can_pluck(finder.reach().hand(), g.strings())));
    if let Some(demand) = unpluckable {
        return Err(lock_fault(tune, demand));
    }
    finder.easiest(demands, aim, watch).map_err(|impasse| {
        let until = &demands[..=impasse.demand];
        // The moment itself may carry no lock: then the one before it leaves it no way.
        lock_fault(tune, until.iter().rev().find(|d| !d.lock.is_empty()).unwrap_or(&demands[impasse.demand]))
    })
}

/// Puts the notes, moments and give-ways of a route together.
pub(super) fn assemble(reach: &Reach, tune: Arc<Tune>, demands: &[Demand], route: &Route) -> Arrangement {
    let moments: Vec<Moment> = demands
        .iter()
        .zip(&route.steps)
        .map(|(demand, step)| Moment {
            at: demand.at,
            length: demand.length,
            milliseconds: demand.milliseconds,
            grip: step.grip,
            struck: step.struck,
            effort: step.effort,
            moved: step.moved,
        })
        .collect();
    let notes = notes(reach, &tune, demands, route);
    let mut give_ways = give_ways(reach, &tune, demands, route);
    give_ways.extend(line_give_ways(reach, &tune, demands, route, &notes));
    give_ways.sort_by_key(|give_way| (give_way.at, give_way.part));
    let grips: Vec<Grip> = moments.iter().map(|moment| moment.grip).collect();
    Arrangement {
        cut_short: cut_short(demands, &notes),
        early: early(reach, &grips),
        effort: moments.iter().map(|m| m.effort.total() + m.moved.total()).sum(),
        score: Score { tune, instrument: reach.instrument().clone(), notes, taps: Vec::new() },
        moments,
        give_ways,
        proven: route.proven,
    }
}
