//! Whole tunes: arranged, searched, searched plainly, ten times as long, and again after one lock.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Arranger, Impossible, Work, arrange};
use handspan_core::demand::{Demand, demands};
use handspan_core::grip::Reach;
use handspan_core::plan::{Aim, Lock, Plan};
use handspan_core::route::candidates::Strokes;
use handspan_core::route::{Finder, Transitions};
use handspan_core::time::Ticks;
use handspan_core::tune::{ChordAt, MelodyNote, TempoAt, Tune, TuneParts};
use handspan_core::watch::{Unwatched, Watch};
use handspan_formats::{load, musicxml};
use handspan_processors::Processors;

use super::plain::plain;
use super::{Clock, Row, same_cost, several, share};
use crate::clock::{rounded, timed, waited};
use crate::fault::Fault;

/// How many times as long a tune is made.
const LONGER: usize = 10;
/// How often a tune is arranged again after a lock.
const AGAIN: u32 = 12;

/// The rows of a tune.
pub(super) fn whole_tune(tune: Tune, runs: usize) -> Result<Result<Vec<Row>, Impossible>, Fault> {
    let work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let title = work.tune.title().to_owned();
    let (found, ms) = several(runs, Clock::Waiting, || arrange(&work, &Processors));
    let found = match found {
        Ok(found) => found,
        Err(why) => return Ok(Err(why)),
    };
    let moments = Some(found.moments.len());
    let row = |what: &str, ms: f64| Row {
        work: format!("{what}: {title}"),
        ms: rounded(ms),
        moments,
        processors: Some(Processors.at_once()),
        ..Row::default()
    };
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let all = demands(&work.tune, &work.plan);
    let mut rows = vec![row("arranged, with right hand, notes and give-ways", ms)];
    rows.push(easiest_route(format!("easiest route: {title}"), &reach, &all, runs)?);
    rows.push(easiest_alone(format!("gentlest hardest move: {title}"), &reach, &all, Aim::Gentlest, runs).0);
    if let Some(longer) = longer(&work.tune) {
        let name = format!("easiest route, {LONGER} times as long: {title}");
        let demands = demands(&longer, &work.plan);
        let (row, ..) = easiest_alone(name, &reach, &demands, Aim::LeastTotal, 1);
        rows.push(Row { memory_mib: peak_mib(), ..row });
    }
    let locked = lock_the_middle(&work, &found);
    let name = format!("arranged anew after one lock: {title}");
    rows.push(Row { moments, ..after_a_lock(name, &work, &locked) });
    Ok(Ok(rows))
}

/// The easiest route through demands, and the same by the plain program.
pub(super) fn easiest_route(
    work: String,
    reach: &Reach,
    demands: &[Demand],
    runs: usize,
) -> Result<Row, Fault> {
    let (mut row, cost, transitions) = easiest_alone(work, reach, demands, Aim::LeastTotal, runs);
    let mut strokes = Strokes::default();
    row.candidates = Some(candidates(reach, &mut strokes, demands));
    let (plain, plain_ms) = timed(|| plain(reach, &mut strokes, demands));
    same_cost(&row.work, cost, plain.cost)?;
    row.plain_ms = Some(rounded(plain_ms));
    row.looked_at = Some(share(transitions.looked_at, plain.transitions));
    row.ratio = row.alone_ms.map(|alone_ms| rounded(plain_ms / alone_ms));
    Ok(row)
}

/// The easiest route through demands, its cost, and how much was looked at.
fn easiest_alone(
    work: String,
    reach: &Reach,
    demands: &[Demand],
    aim: Aim,
    runs: usize,
) -> (Row, Option<i64>, Transitions) {
    let (_, ms) = several(runs, Clock::Waiting, || Finder::new(reach).easiest(demands, aim, &Processors));
    let mut finder = Finder::new(reach);
    let cost = finder.easiest(demands, aim, &Unwatched).map(|route| route.cost).ok();
    let transitions = finder.transitions();
    let mut search = |clock, watch: &dyn Watch| {
        let (_, ms) = several(runs, clock, || {
            finder.forget_searches();
            finder.easiest(demands, aim, watch)
        });
        Some(rounded(ms))
    };
    let row = Row {
        work,
        ms: rounded(ms),
        processors: Some(Processors.at_once()),
        search_ms: search(Clock::Waiting, &Processors),
        alone_ms: search(Clock::Alone, &Unwatched),
        looked_at: Some(share(transitions.looked_at, transitions.all)),
        moments: Some(demands.len()),
        ..Row::default()
    };
    (row, cost, transitions)
}

/// The most memory that the program has taken so far, as Linux tells it.
fn peak_mib() -> Option<f64> {
    let told = fs::read_to_string("/proc/self/status").ok()?;
    let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.split_whitespace().next()?.parse().ok()?;
    Some(rounded(kib / 1024.0))
}

/// How many grips a stroke has on average that holds nothing from before.
fn candidates(reach: &Reach, strokes: &mut Strokes, demands: &[Demand]) -> usize {
    let silent = handspan_core::grip::Grip::SILENT;
    let counts: Vec<usize> = demands
        .iter()
        .filter_map(|demand| Some(strokes.of(reach, demand, demand.accompaniment?, &silent).len()))
        .collect();
    counts.iter().sum::<usize>() / counts.len().max(1)
}

/// The arrangement once one moment is locked, by an arranger that has arranged without the lock.
///
/// The second time alone is counted.
fn after_a_lock(work: String, before: &Work, after: &Work) -> Row {
    let again = |_| {
        let mut arranger = Arranger::default();
        arranger.arrange(before, &Processors).ok();
        waited(|| arranger.arrange(after, &Processors)).1
    };
    let ms = (0..AGAIN).map(again).sum::<f64>() / f64::from(AGAIN);
    Row { work, ms: rounded(ms), processors: Some(Processors.at_once()), ..Row::default() }
}

/// The work with the middle moment locked as it was found.
fn lock_the_middle(work: &Work, found: &Arrangement) -> Work {
    let mut locked = work.clone();
    if let Some(moment) = found.moments.get(found.moments.len() / 2) {
        let lock = Lock { grip: Some(moment.grip.only(moment.struck)), ..Lock::default() };
        locked.plan.locks.set(moment.at, lock);
    }
    locked
}

/// The tune played over and over, in written order, without its repeats; none where that makes no tune.
fn longer(tune: &Tune) -> Option<Tune> {
    let once = tune.clone().into_parts();
    let end = tune.end();
    let mut parts = TuneParts {
        bars: Vec::new(),
        melody: Vec::new(),
        chords: Vec::new(),
        tempi: Vec::new(),
        ..once.clone()
    };
    for time in 0..LONGER {
        let later = |at: Ticks| Ticks::new(at.count() + end.count() * time as i64);
        let plain = |bar: &handspan_core::tune::Bar| {
            handspan_core::tune::Bar::plain(bar.number.clone(), bar.length, bar.metre, bar.key)
        };
        parts.bars.extend(once.bars.iter().map(plain));
        let note =
            |note: &MelodyNote| MelodyNote { at: later(note.at), tied_in: false, tied_out: false, ..*note };
        parts.melody.extend(once.melody.iter().map(note));
        parts.chords.extend(once.chords.iter().map(|chord| ChordAt { at: later(chord.at), ..chord.clone() }));
        parts.tempi.extend(once.tempi.iter().map(|tempo| TempoAt { at: later(tempo.at), ..*tempo }));
    }
    Tune::try_new(parts).ok()
}

pub(super) fn read(path: &Path) -> Result<Tune, Fault> {
    let tune = load(path).and_then(|bytes| musicxml::read_tune(&bytes));
    tune.map(|imported| imported.value).map_err(|why| Fault::LeadSheet { path: path.to_path_buf(), why })
}

/// The tunes that come with the program, in the order of their names.
pub(super) fn demo_tunes() -> Result<Vec<PathBuf>, Fault> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let unread = |why| Fault::Unread { path: folder.clone(), why };
    let mut tunes = Vec::new();
    for entry in fs::read_dir(&folder).map_err(unread)? {
        let path = entry.map_err(unread)?.path();
        // A study that is written out has nothing to be arranged.
        let is_lead_sheet = |path: &PathBuf| load(path).is_ok_and(|bytes| !musicxml::is_written_out(&bytes));
        tunes.extend(
            Some(path).filter(|p| p.extension().is_some_and(|e| e == "musicxml") && is_lead_sheet(p)),
        );
    }
    tunes.sort();
    Ok(tunes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Finds the easiest route and the plain one; their costs are compared on the way.
    #[test]
    fn the_plain_program_finds_the_same_cost_for_demo_tunes() {
        let paths = demo_tunes().unwrap();
        assert!(paths.len() >= 2);
        for path in paths {
            let work = Work { tune: Arc::new(read(&path).unwrap()), plan: Plan::default() };
            let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
            let demands = demands(&work.tune, &work.plan);
            let row = easiest_route(String::new(), &reach, &demands, 1).unwrap();
            assert!(row.moments.is_some_and(|moments| moments > 20));
            assert!(row.looked_at.is_some_and(|share| share > 0.0 && share < 0.5), "{row:?}");
            let json = serde_json::to_value(&row).unwrap();
            assert!(json["ratio"].is_number() && json.get("memory_mib").is_none());
        }
    }

    #[test]
    fn a_longer_tune_has_ten_times_as_many_moments() {
        let tune = read(&demo_tunes().unwrap()[0]).unwrap();
        let moments = |tune: &Tune| demands(tune, &Plan::default()).len();
        assert_eq!(moments(&longer(&tune).unwrap()), LONGER * moments(&tune));
    }
}
