//! Fixed pitches: written music of 250 onsets, made from an arrangement of a demo tune.

use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Work, arrange};
use handspan_core::demand::{Part, SoundingNote, WrittenDemand, WrittenNote};
use handspan_core::grip::{Grip, Reach, StringSet};
use handspan_core::pitch::Pitch;
use handspan_core::plan::{Aim, Plan};
use handspan_core::route::{easiest_written_counted, written_grips};
use handspan_core::tune::Tune;
use handspan_core::watch::Unwatched;

use super::plain::plain_written;
use super::{Clock, Row, same_cost, several, share};
use crate::clock::{rounded, timed};
use crate::fault::Fault;

/// How many onsets are measured.
const ONSETS: usize = 250;

/// The row of written music.
pub(super) fn row(tune: Tune, runs: usize) -> Result<Option<Row>, Fault> {
    let work = format!("written music, every pitch fixed, after {}", tune.title());
    let Some((reach, demands)) = written_demands(tune, ONSETS) else { return Ok(None) };
    let (found, ms) = several(runs, Clock::Alone, || {
        easiest_written_counted(&reach, &demands, Aim::LeastTotal, &Unwatched)
    });
    let Ok(Some((route, transitions))) = found else { return Ok(None) };
    let (plain, plain_ms) = timed(|| plain_written(&reach, &demands));
    same_cost(&work, Some(route.cost), plain.cost)?;
    Ok(Some(Row {
        work,
        ms: rounded(ms),
        plain_ms: Some(rounded(plain_ms)),
        ratio: Some(rounded(plain_ms / ms)),
        looked_at: Some(share(transitions.looked_at, plain.transitions)),
        moments: Some(demands.len()),
        candidates: Some(candidates(&reach, &demands)),
        ..Row::default()
    }))
}

/// So many onsets of a tune's arrangement as written music; none where the tune cannot be arranged.
pub(super) fn written_demands(tune: Tune, onsets: usize) -> Option<(Reach, Vec<WrittenDemand>)> {
    let work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let arrangement = arrange(&work, &Unwatched).ok()?;
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let demands = written(&reach, &arrangement).into_iter().cycle().take(onsets).collect();
    Some((reach, demands))
}

/// What an arrangement sounds, as if it were written so.
fn written(reach: &Reach, arrangement: &Arrangement) -> Vec<WrittenDemand> {
    let pitches = |grip: &Grip, strings: StringSet| -> Vec<Pitch> {
        let mut pitches: Vec<Pitch> = grip.only(strings).voicing().pitches(reach.instrument()).collect();
        pitches.sort_unstable();
        pitches.dedup();
        pitches
    };
    let tune = &arrangement.score.tune;
    let bars = arrangement.moments.iter().map(|moment| tune.bar_index(moment.at));
    let begins = bars.scan(None, |before, bar| Some(before.replace(bar) != Some(bar)));
    let moments = arrangement.moments.iter().zip(begins).map(|(moment, begins_bar)| {
        let struck = pitches(&moment.grip, moment.struck);
        let mut sounding_on = pitches(&moment.grip, moment.grip.strings().without(moment.struck));
        sounding_on.retain(|pitch| !struck.contains(pitch));
        let sounding_on = sounding_on.into_iter().map(|pitch| SoundingNote { pitch, part: Part::Inner });
        WrittenDemand {
            begins_bar,
            milliseconds: moment.milliseconds,
            struck: struck.into_iter().map(WrittenNote::plain).collect(),
            sounding_on: sounding_on.collect(),
        }
    });
    moments.collect()
}

/// How many grips an onset has on average when nothing is held.
fn candidates(reach: &Reach, demands: &[WrittenDemand]) -> usize {
    let mut count = 0;
    for demand in demands {
        written_grips(reach, &Grip::SILENT, &demand.struck, |_| count += 1);
    }
    count / demands.len().max(1)
}

#[cfg(test)]
mod tests {
    use super::super::tunes::{demo_tunes, read};
    use super::*;

    #[test]
    fn the_plain_program_finds_the_same_cost_for_written_music() {
        for path in demo_tunes().unwrap() {
            let row = row(read(&path).unwrap(), 1).unwrap().unwrap();
            assert_eq!(row.moments, Some(ONSETS));
            assert!(row.candidates.is_some_and(|count| count > 5), "{row:?}");
        }
    }
}
