//! Cases made up to be measured: very many grips at every moment, and instruments with more strings.

use handspan_core::demand::{Accompaniment, Demand, LineDemands, MelodyDemand};
use handspan_core::grip::{BassChoice, Grip, Reach};
use handspan_core::hand::Hand;
use handspan_core::harmony::ToneSet;
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::{Pitch, PitchClass};
use handspan_core::plan::Lock;
use handspan_core::route::candidates::Strokes;
use handspan_core::time::Ticks;

use super::Row;
use super::tunes::easiest_route;
use crate::fault::Fault;

/// How many moments the case has.
const MOMENTS: usize = 64;
/// How many grips each of them has at least: with 1,200 it is 2,005 on average.
const GRIPS: [usize; 4] = [500, 1_000, 1_200, 2_000];
/// Open strings from the lowest on, as MIDI numbers: six of a guitar, with two and four more below.
const STRINGS: [&[u8]; 3] =
    [&[40, 45, 50, 55, 59, 64], &[30, 35, 40, 45, 50, 55, 59, 64], &[23, 26, 30, 35, 40, 45, 50, 55, 59, 64]];

/// The rows of all cases.
pub(super) fn rows(runs: usize) -> Result<Vec<Row>, Fault> {
    let mut rows = Vec::new();
    for (strings, low_to_high) in STRINGS.iter().map(|open| (open.len(), open.iter().copied())) {
        let tuning = Tuning::from_low_to_high("measured", low_to_high.map(Pitch::new));
        let instrument = Instrument::try_new(tuning, 19, Instrument::CLASSICAL_SCALE, 0)
            .expect("six to ten strings and 19 frets are an instrument");
        let reach = Reach::new(&instrument, &Hand::default());
        for grips in GRIPS.into_iter().filter(|grips| strings == 6 || *grips == 1_000) {
            let demands = demands(&reach, grips);
            let work = format!("{MOMENTS} moments with {grips} grips or more each, {strings} strings");
            rows.push(easiest_route(work, &reach, &demands, runs)?);
        }
    }
    Ok(rows)
}

/// Strokes under changing melody notes, each with as many tones as give it so many grips.
fn demands(reach: &Reach, grips: usize) -> Vec<Demand> {
    let mut strokes = Strokes::default();
    (0..MOMENTS).map(|moment| demand(reach, &mut strokes, moment, grips)).collect()
}

fn demand(reach: &Reach, strokes: &mut Strokes, moment: usize, grips: usize) -> Demand {
    let melody = Pitch::new(60 + (moment * 7 % 17) as u8);
    let length = Ticks::PER_QUARTER;
    let mut tones = ToneSet::EMPTY;
    let mut demand = Demand {
        at: Ticks::new(length * moment as i64),
        length: Ticks::new(length),
        milliseconds: 250 + 125 * (moment % 3) as i64,
        melody: MelodyDemand::Begins { note: moment, pitch: melody },
        lines: LineDemands::SILENT,
        accompaniment: None,
        rings_until: Ticks::new(length * (moment as i64 + 1)),
        lock: Lock::default(),
    };
    for tone in 0..PitchClass::ALL.len() {
        tones.insert(PitchClass::ALL[(moment + tone * 7) % PitchClass::ALL.len()]);
        let wanted = Accompaniment { bass: BassChoice::Free, tones, guide_tones: tones };
        demand.accompaniment = Some(wanted);
        if strokes.of(reach, &demand, wanted, &Grip::SILENT).len() >= grips {
            break;
        }
    }
    demand
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_moment_has_as_many_grips_as_asked_for() {
        let reach = Reach::new(&Instrument::classical(), &Hand::default());
        let mut strokes = Strokes::default();
        for demand in demands(&reach, 500).iter().step_by(16) {
            let wanted = demand.accompaniment.unwrap();
            assert!(strokes.of(&reach, demand, wanted, &Grip::SILENT).len() >= 500);
        }
    }
}
