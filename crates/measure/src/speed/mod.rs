//! How long the engine takes: the grips of one moment, whole tunes, a tune again after one lock, and in every key.
//!
//! Only what is really run is a row. Times are the median of several runs.

mod lies;
#[cfg(test)]
mod outside;
mod plain;
mod synthetic;
mod tunes;
mod written;

use std::path::PathBuf;

use clap::Args;
use handspan_core::arrangement::LieScope;
use handspan_core::grip::{BassChoice, VoicingWish, grips};
use handspan_core::hand::Hand;
use handspan_core::harmony::{Chord, Kind};
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::Spelling;
use serde::Serialize;

use crate::Findings;
use crate::clock::{median, rounded, timed, waited};
use crate::fault::Fault;

/// The frets of the neck on which one moment is measured.
const FRETS: u8 = 20;
/// Melody notes that one moment is measured under: E4 to E5.
const MELODY: std::ops::RangeInclusive<u8> = 64..=76;
/// How often everything is run.
const RUNS: usize = 3;

/// What stands below the options in the help.
const KEYS: &str = "\
The demo tunes are measured with or without FILES.

Keys of a row:
  work        what was done
  ms          how long one waits for it, candidates included, in milliseconds: the median of three runs; anew after a
              lock: the second time alone, the mean of twelve locks; keys, tunings and capo positions compared: once
  first_ms    how long until the first row of a comparison is told
  processors  how many share the work; the other rows have one, and count its time as alone_ms does
  search_ms   the same once the candidates of every stroke are known
  alone_ms    that search on one processor: how long its thread ran, where the system tells that, else by the clock
  plain_ms    a plain dynamic program over the same candidates, known too, on one processor: once
  ratio       plain_ms / alone_ms
  looked_at   how many moves the search worked out, as a share of those that the plain program did; where there is no
              plain program, of those that it could have
  moments     how many moments there are
  candidates  how many grips a stroke has on average, or how many were found
  memory_mib  what the program had taken of the memory by then at its peak, in MiB, where the system tells

A key that does not apply is left out. The plain program finds the same cost, or the command says so and fails.";

/// Measures the time that the engine takes and prints a JSON list, a row a piece of work
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// Lead sheets to measure beside the demo tunes
    files: Vec<PathBuf>,
}

/// A piece of work. What does not apply is left out.
#[derive(Serialize, Debug, Default)]
struct Row {
    work: String,
    ms: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    first_ms: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    processors: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    search_ms: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    alone_ms: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    plain_ms: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ratio: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    looked_at: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    moments: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    candidates: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    memory_mib: Option<f64>,
}

/// Measures everything.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let mut rows = one_moment();
    let mut remarks = Vec::new();
    for path in tunes::demo_tunes()?.iter().chain(&options.files) {
        match tunes::whole_tune(tunes::read(path)?, RUNS)? {
            Ok(more) => rows.extend(more),
            Err(why) => remarks.push(format!("{} is left out: {why}", path.display())),
        }
    }
    if let Some(longest) = tunes::demo_tunes()?.first() {
        rows.extend(written::row(tunes::read(longest)?, RUNS)?);
        rows.extend(lies::row(tunes::read(longest)?, &LieScope::usual(&Instrument::classical())));
    }
    rows.extend(synthetic::rows(RUNS)?);
    let json = serde_json::to_string_pretty(&rows).expect("texts and numbers can always be written");
    Ok(Findings { json, remarks })
}

/// The share of so many transitions that were looked at.
fn share(looked_at: u64, all: u64) -> f64 {
    (1e4 * looked_at as f64 / all.max(1) as f64).round() / 1e4
}

/// Fails where the plain program has found another cost than the search.
fn same_cost(work: &str, found: Option<i64>, plain: Option<i64>) -> Result<(), Fault> {
    if found == plain { Ok(()) } else { Err(Fault::Cost { work: work.to_owned(), found, plain }) }
}

/// Every grip of one moment, for many wishes and for a hard one.
fn one_moment() -> Vec<Row> {
    let guitar = Instrument::try_new(Tuning::standard(), FRETS, Instrument::CLASSICAL_SCALE, 0)
        .expect("six strings and twenty frets are an instrument");
    let mut measured: Vec<(f64, usize)> = wishes().iter().map(|wish| enumerate(&guitar, wish)).collect();
    measured.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let count = measured.len();
    let row = |which: &str, (ms, candidates): (f64, usize)| Row {
        work: format!("every grip of one moment, four to six notes under a melody, {which} of {count}"),
        ms: rounded(ms),
        candidates: Some(candidates),
        ..Row::default()
    };
    let mut rows: Vec<Row> =
        measured.get(count / 2).map(|middle| row("median", *middle)).into_iter().collect();
    rows.extend(measured.last().map(|worst| row("worst", *worst)));
    let (ms, candidates) = enumerate(&guitar, &six_notes());
    let work = "every grip of one moment, six notes of C13 with any top and bass".to_owned();
    rows.push(Row { work, ms: rounded(ms), candidates: Some(candidates), ..Row::default() });
    rows
}

/// Four to six notes of seventh chords and others on every root, with their root beneath every melody note they have.
fn wishes() -> Vec<VoicingWish> {
    const KINDS: [Kind; 8] = [
        Kind::Major,
        Kind::Minor,
        Kind::Dominant,
        Kind::MajorSeventh,
        Kind::MinorSeventh,
        Kind::HalfDiminished,
        Kind::MajorSixth,
        Kind::DominantNinth,
    ];
    let mut wishes = Vec::new();
    for root in -5..=6 {
        for kind in KINDS {
            let chord = Chord::plain(Spelling::from_fifths(root), kind);
            let melody = MELODY.map(Pitch::new).filter(|pitch| chord.tones().contains(pitch.class()));
            wishes.extend(melody.map(|melody| VoicingWish {
                melody: Some(melody),
                notes: 4..=6,
                ..VoicingWish::for_chord(&chord)
            }));
        }
    }
    wishes
}

/// The widest wish of all: any tone of a seven-note chord on every string.
fn six_notes() -> VoicingWish {
    let chord = Chord::plain(Spelling::from_fifths(0), Kind::Dominant13th);
    VoicingWish { bass: BassChoice::Free, notes: 6..=6, ..VoicingWish::for_chord(&chord) }
}

fn enumerate(guitar: &Instrument, wish: &VoicingWish) -> (f64, usize) {
    // One run a wish is enough: it is long, and there are many wishes.
    let (grips, ms) = several(1, Clock::Alone, || grips(guitar, &Hand::default(), wish));
    (ms, grips.len())
}

/// How many milliseconds a run lasts at least: the clock of a thread ticks slowly, so short work is done many times.
const LONG_ENOUGH: f64 = 20.0;

/// How time is counted.
#[derive(Clone, Copy)]
enum Clock {
    /// As long as one waits.
    Waiting,
    /// As long as this thread runs.
    Alone,
}

impl Clock {
    fn time<T>(self, work: impl FnOnce() -> T) -> (T, f64) {
        match self {
            Self::Waiting => waited(work),
            Self::Alone => timed(work),
        }
    }
}

/// Does some work several times; gives its last result and the median of its times.
fn several<T>(runs: usize, clock: Clock, mut work: impl FnMut() -> T) -> (T, f64) {
    let (mut result, first) = clock.time(&mut work);
    let often = (LONG_ENOUGH / first.max(0.1)).ceil().max(1.0) as usize;
    let mut times = Vec::with_capacity(runs);
    for _ in 0..runs {
        let (again, ms) = clock.time(|| {
            for _ in 1..often {
                work();
            }
            work()
        });
        times.push(ms / often as f64);
        result = again;
    }
    (result, median(times))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wishes_are_many_and_meant() {
        let wishes = wishes();
        assert!(wishes.len() > 300, "{}", wishes.len());
        assert!(wishes.iter().all(|wish| wish.tones.contains(wish.melody.unwrap().class())));
    }
}
