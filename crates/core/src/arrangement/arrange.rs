//! Tune and plan become an arrangement.

use std::sync::Arc;

use super::arrangement::{Arrangement, Moment, Work};
use super::give_ways::give_ways;
use super::impossible::{Impossible, transpositions};
use super::notes::notes;
use super::score::Score;
use super::seams::{Tied, easiest_tied};
use crate::demand::{Demand, demands};
use crate::grip::Reach;
use crate::plan::Lock;
use crate::route::{self, Route, right_hand};
use crate::time::Ticks;
use crate::tune::Tune;
use crate::watch::Watch;

/// Arranges a tune as planned: the easiest route for the whole of it, every lock kept.
///
/// # Errors
/// Says why there is no arrangement at all. A watch that stops the search is no error: the arrangement is then the
/// best so far, and not called proven.
pub fn arrange(work: &Work, watch: &dyn Watch) -> Result<Arrangement, Impossible> {
    let tune = sounding(work)?;
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let solve = |demands: &[Demand]| easiest(&reach, &tune, demands, watch);
    let refuse = |demand: &Demand| lock_fault(&tune, demand);
    let Tied { demands, route } =
        easiest_tied(reach.instrument(), &tune, demands(&tune, &work.plan), solve, refuse)?;
    Ok(assemble(&reach, Arc::clone(&tune), &demands, &route))
}

/// Finds the easiest route for the moments from `from` up to `to` and leaves all others as they are.
///
/// # Errors
/// As [`arrange`].
pub fn arrange_passage(
    work: &Work,
    current: &Arrangement,
    from: Ticks,
    to: Ticks,
    watch: &dyn Watch,
) -> Result<Arrangement, Impossible> {
    let outside = |at: Ticks| at < from || at >= to;
    let mut fixed = work.clone();
    for moment in current.moments.iter().filter(|m| outside(m.at)) {
        let grip = Some(moment.grip.only(moment.struck));
        let lock = Lock { grip, melody: None, ..work.plan.locks.at(moment.at) };
        fixed.plan.locks.set(moment.at, lock);
    }
    let mut again = arrange(&fixed, watch)?;
    // What is fixed here nobody locked: why it is not fuller was told when it was found.
    again.give_ways.retain(|give_way| !outside(give_way.at));
    again.give_ways.extend(current.give_ways.iter().filter(|g| outside(g.at)).cloned());
    again.give_ways.sort_by_key(|give_way| (give_way.at, give_way.part));
    Ok(again)
}

/// The tune as it sounds, once every melody note is known to lie on the instrument.
fn sounding(work: &Work) -> Result<Arc<Tune>, Impossible> {
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
    match tune.melody().iter().find(|note| instrument.places(note.pitch()).next().is_none()) {
        None => Ok(tune),
        Some(note) => Err(Impossible::OutOfRange {
            bar_beat: tune.bar_beat(note.at),
            note: note.written,
            transpositions: transpositions(&work.tune, instrument),
        }),
    }
}

fn lock_fault(tune: &Tune, demand: &Demand) -> Impossible {
    Impossible::Lock { at: demand.at, bar_beat: tune.bar_beat(demand.at) }
}

fn easiest(reach: &Reach, tune: &Tune, demands: &[Demand], watch: &dyn Watch) -> Result<Route, Impossible> {
    let unpluckable = demands
        .iter()
        .find(|d| d.lock.grip.is_some_and(|g| !right_hand::can_pluck(reach.hand(), g.strings())));
    if let Some(demand) = unpluckable {
        return Err(lock_fault(tune, demand));
    }
    route::easiest(reach, demands, watch).map_err(|impasse| {
        let until = &demands[..=impasse.demand];
        // The moment itself may carry no lock: then the one before it leaves it no way.
        lock_fault(tune, until.iter().rev().find(|d| !d.lock.is_empty()).unwrap_or(&demands[impasse.demand]))
    })
}

/// Puts the notes, moments and give-ways of a route together.
fn assemble(reach: &Reach, tune: Arc<Tune>, demands: &[Demand], route: &Route) -> Arrangement {
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
    let give_ways = give_ways(reach, &tune, demands, route);
    Arrangement {
        effort: moments.iter().map(|m| m.effort.total() + m.moved.total()).sum(),
        score: Score { tune, instrument: reach.instrument().clone(), notes },
        moments,
        give_ways,
        proven: route.proven,
    }
}
