//! How long the engine takes: the grips of one moment, whole tunes, and a tune again after one lock.
//!
//! Only what is really run is a row. Times are the median of several runs in one thread.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;
use handspan_core::arrangement::{Arrangement, Impossible, Work, arrange};
use handspan_core::grip::{BassChoice, VoicingWish, grips};
use handspan_core::hand::Hand;
use handspan_core::harmony::{Chord, Kind};
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::plan::{Lock, Plan};
use handspan_core::spelling::Spelling;
use handspan_core::tune::Tune;
use handspan_core::watch::Unwatched;
use handspan_formats::{load, musicxml};
use serde::Serialize;

use crate::Findings;
use crate::clock::{median, rounded, timed};
use crate::fault::Fault;

/// The frets of the neck on which one moment is measured.
const FRETS: u8 = 20;
/// Melody notes that one moment is measured under: E4 to E5.
const MELODY: std::ops::RangeInclusive<u8> = 64..=76;
/// How often everything is run.
const RUNS: usize = 5;

/// What stands below the options in the help.
const KEYS: &str = "\
The demo tunes are measured with or without FILES. A tune is arranged as `handspan arrange` does it: demands, route,
right hand and notes.

Keys of a row:
  work        what was done
  ms          how long it took: the median of five runs in one thread
  moments     how many moments the tune has
  candidates  how many grips were found

Not measured yet: plain_ms, ratio and looked_at. They need a plain search over the same candidates.";

/// Measures the time that the engine takes and prints a JSON list, a row a piece of work
#[derive(Args, Debug)]
#[command(after_help = KEYS)]
pub(crate) struct Options {
    /// Lead sheets to measure beside the demo tunes
    files: Vec<PathBuf>,
}

/// A piece of work.
#[derive(Serialize, Debug)]
struct Row {
    work: String,
    ms: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    moments: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    candidates: Option<usize>,
}

/// Measures everything.
pub(crate) fn run(options: &Options) -> Result<Findings, Fault> {
    let mut rows = one_moment();
    let mut remarks = Vec::new();
    for path in demo_tunes()?.iter().chain(&options.files) {
        let tune = read(path)?;
        match whole_tune(tune, RUNS) {
            Ok(more) => rows.extend(more),
            Err(why) => remarks.push(format!("{} is left out: {why}", path.display())),
        }
    }
    let json = serde_json::to_string_pretty(&rows).expect("texts and numbers can always be written");
    Ok(Findings { json, remarks })
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
        moments: None,
        candidates: Some(candidates),
    };
    let mut rows: Vec<Row> =
        measured.get(count / 2).map(|middle| row("median", *middle)).into_iter().collect();
    rows.extend(measured.last().map(|worst| row("worst", *worst)));
    let (ms, candidates) = enumerate(&guitar, &six_notes());
    let work = "every grip of one moment, six notes of C13 with any top and bass".to_owned();
    rows.push(Row { work, ms: rounded(ms), moments: None, candidates: Some(candidates) });
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
    let (grips, ms) = several(RUNS, || grips(guitar, &Hand::default(), wish));
    (ms, grips.len())
}

/// Does some work several times; gives its last result and the median of its times.
fn several<T>(runs: usize, mut work: impl FnMut() -> T) -> (T, f64) {
    let (mut result, first) = timed(&mut work);
    let mut times = vec![first];
    for _ in 1..runs {
        let (again, ms) = timed(&mut work);
        times.push(ms);
        result = again;
    }
    (result, median(times))
}

/// The easiest route of a tune, and again after one lock in its middle.
fn whole_tune(tune: Tune, runs: usize) -> Result<[Row; 2], Impossible> {
    let mut work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let title = work.tune.title().to_owned();
    let (found, ms) = several(runs, || arrange(&work, &Unwatched));
    let found = found?;
    let row = |what: &str, ms: f64| Row {
        work: format!("{what}: {title}"),
        ms: rounded(ms),
        moments: Some(found.moments.len()),
        candidates: None,
    };
    let easiest = row("easiest route", ms);
    lock_the_middle(&mut work, &found);
    let (again, ms) = several(runs, || arrange(&work, &Unwatched));
    again?;
    Ok([easiest, row("easiest route anew after one lock", ms)])
}

/// Locks the middle moment as it was found.
fn lock_the_middle(work: &mut Work, found: &Arrangement) {
    if let Some(moment) = found.moments.get(found.moments.len() / 2) {
        let lock = Lock { grip: Some(moment.grip.only(moment.struck)), ..Lock::default() };
        work.plan.locks.set(moment.at, lock);
    }
}

fn read(path: &Path) -> Result<Tune, Fault> {
    let tune = load(path).and_then(|bytes| musicxml::read_tune(&bytes));
    tune.map(|imported| imported.value).map_err(|why| Fault::LeadSheet { path: path.to_path_buf(), why })
}

/// The tunes that come with the program, in the order of their names.
fn demo_tunes() -> Result<Vec<PathBuf>, Fault> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let unread = |why| Fault::Unread { path: folder.clone(), why };
    let mut tunes = Vec::new();
    for entry in fs::read_dir(&folder).map_err(unread)? {
        let path = entry.map_err(unread)?.path();
        tunes.extend(path.extension().is_some_and(|e| e == "musicxml").then_some(path));
    }
    tunes.sort();
    Ok(tunes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn demo_tunes_have_a_row_before_and_after_a_lock() {
        let paths = demo_tunes().unwrap();
        assert!(paths.len() >= 2);
        let rows = whole_tune(read(&paths[0]).unwrap(), 1).unwrap();
        assert!(rows.iter().all(|row| row.moments.is_some_and(|moments| moments > 20)));
        let json = serde_json::to_value(&rows[1]).unwrap();
        assert!(json["work"].as_str().unwrap().starts_with("easiest route anew after one lock: "));
        assert!(json["ms"].is_number() && json.get("candidates").is_none());
    }

    #[test]
    fn wishes_are_many_and_meant() {
        let wishes = wishes();
        assert!(wishes.len() > 300, "{}", wishes.len());
        assert!(wishes.iter().all(|wish| wish.tones.contains(wish.melody.unwrap().class())));
    }
}
