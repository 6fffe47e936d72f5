//! A passage is found anew, or in several ways, while everything outside of it stays as it is.

use std::ops::Range;
use std::sync::Arc;

use super::arrange::{arrange, assemble, lock_fault, sounding, tied};
use super::arrangement::{Arrangement, Work};
use super::fingered::finger_differently;
use super::impossible::Impossible;
use crate::grip::Reach;
use crate::plan::Lock;
use crate::route::{self, Finder};
use crate::time::Ticks;
use crate::watch::{Watch, Within};

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
    let passage = from..to;
    let again = arrange(&fixed_outside(work, current, &passage), watch)?;
    Ok(explained(again, current, &passage))
}

/// The best arrangements that are really different, the best first, `count` at most.
///
/// Each is the best of those that have at most [`route::MOST_OVERLAP`] of a hundred grips of the passage in common with
/// every one before it. Without a passage the whole tune is meant; what lies outside of it stays as it is.
///
/// A note that is tied over a repeat stays on one string, in all of them the same as in the first. There are fewer
/// where no more are different enough, or where the watch stopped the search. Progress is told in routes.
///
/// # Errors
/// As [`arrange`].
pub fn different_routes(
    work: &Work,
    current: &Arrangement,
    passage: Option<Range<Ticks>>,
    count: usize,
    watch: &dyn Watch,
) -> Result<Vec<Arrangement>, Impossible> {
    let tune = sounding(work)?;
    let passage = passage.unwrap_or_else(|| Ticks::ZERO..tune.end());
    let fixed = fixed_outside(work, current, &passage);
    if let Some(written_out) = tune.written_out() {
        let found = finger_differently(&fixed, &tune, written_out, &passage, count, watch)?;
        return Ok(found.into_iter().map(|again| explained(again, current, &passage)).collect());
    }
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let tied = tied(&mut Finder::new(&reach), &tune, &fixed.plan, &Within(watch))?;
    let demands = tied.locked(&tune);
    let index = |at: Ticks| demands.partition_point(|demand| demand.at < at);
    let within = index(passage.start)..index(passage.end);
    let routes = route::different_routes(&reach, &demands, within, work.plan.aim, count, watch)
        .map_err(|impasse| lock_fault(&tune, &demands[impasse.demand]))?;
    let arrangements = routes.iter().map(|route| assemble(&reach, Arc::clone(&tune), &tied.demands, route));
    Ok(arrangements.map(|arrangement| explained(arrangement, current, &passage)).collect())
}

/// The work with every grip outside of a passage locked as it is.
fn fixed_outside(work: &Work, current: &Arrangement, passage: &Range<Ticks>) -> Work {
    let mut fixed = work.clone();
    for moment in current.moments.iter().filter(|moment| !passage.contains(&moment.at)) {
        let grip = Some(moment.grip.only(moment.struck));
        let lock = Lock { grip, melody: None, ..work.plan.locks.at(moment.at) };
        fixed.plan.locks.set(moment.at, lock);
    }
    fixed
}

/// What is fixed outside of a passage nobody locked: why it is not fuller was told when it was found.
fn explained(mut again: Arrangement, current: &Arrangement, passage: &Range<Ticks>) -> Arrangement {
    again.give_ways.retain(|give_way| passage.contains(&give_way.at));
    again.give_ways.extend(current.give_ways.iter().filter(|g| !passage.contains(&g.at)).cloned());
    again.give_ways.sort_by_key(|give_way| (give_way.at, give_way.part));
    again
}
