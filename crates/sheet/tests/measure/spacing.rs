//! The distances between strokes as they stand on paper, held against the rule of spacing.

use std::collections::BTreeMap;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::time::Ticks;
use handspan_sheet::frame::{Frame, Role};
use handspan_sheet::points::{Points, Rect};
use handspan_sheet::{Sheet, SheetOptions, look};

/// From one stroke to the next within a bar, where nothing else stands between them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Step {
    /// How long.
    pub time: Ticks,
    /// How far, from middle to middle, at the usual size.
    pub room: Points,
    /// The white between the ink of both.
    pub white: Points,
    /// Where it begins.
    pub at: Ticks,
}

impl Step {
    /// The room that the rule would give a quarter, if this step followed the rule.
    pub(crate) fn stretch(&self) -> f64 {
        self.room.count() / self.time.quarters().sqrt()
    }
}

/// The ink of a stroke: its figures with their digits.
#[derive(Clone, Copy, Debug)]
struct Column {
    middle: Points,
    ink: Rect,
}

/// The steps of every system with tablature, in the order of the sheet.
pub(crate) fn systems(score: &Score, sheet: &Sheet, scale: f64) -> Vec<Vec<Step>> {
    sheet.pages.iter().flat_map(|page| page_systems(score, page, scale)).collect()
}

fn page_systems(score: &Score, page: &Frame, scale: f64) -> Vec<Vec<Step>> {
    let mut systems: Vec<BTreeMap<Ticks, Column>> = Vec::new();
    for (role, ink) in page.groups() {
        let note = match role {
            Role::System(_) => {
                systems.push(BTreeMap::new());
                continue;
            }
            Role::Fret(note) | Role::LeftFinger(note) => note,
            _ => continue,
        };
        let Some(columns) = systems.last_mut() else { continue };
        let middle = ink.left + ink.width() / 2.0;
        let column = columns.entry(score.notes[note].at).or_insert(Column { middle, ink });
        column.ink = column.ink.union(ink);
        if matches!(role, Role::Fret(_)) {
            column.middle = middle;
        }
    }
    systems.iter().map(|columns| steps(score, columns, scale)).collect()
}

fn steps(score: &Score, columns: &BTreeMap<Ticks, Column>, scale: f64) -> Vec<Step> {
    let all: Vec<(&Ticks, &Column)> = columns.iter().collect();
    let pairs = all.windows(2).filter(|pair| {
        let (from, to) = (*pair[0].0, *pair[1].0);
        let bar = score.tune.bar_index(from);
        // A note that ends, or a chord symbol, may have a column of its own between two strokes.
        let ends = score.notes.iter().map(ScoreNote::end);
        let named = score.tune.chords().iter().map(|chord| chord.at);
        bar == score.tune.bar_index(to) && !ends.chain(named).any(|at| from < at && at < to)
    });
    let step = |pair: &[(&Ticks, &Column)]| Step {
        at: *pair[0].0,
        time: *pair[1].0 - *pair[0].0,
        room: (pair[1].1.middle - pair[0].1.middle) / scale,
        white: (pair[1].1.ink.left - pair[0].1.ink.right) / scale,
    };
    pairs.map(step).collect()
}

/// The least room that a system gives to a quarter: what the rule gives it there.
pub(crate) fn unit(steps: &[Step]) -> f64 {
    steps.iter().map(Step::stretch).fold(f64::MAX, f64::min)
}

/// The most that a step may take, as a multiple of what the rule gives it in its system: where only ink needs it, and
/// where a chord symbol with its box stands over its beginning.
const MOST_BEYOND: f64 = 4.0;
const MOST_BEYOND_NAMED: f64 = 6.0;
/// The most that a line is pulled, which only a line does that no further bar fits on.
const MOST_PULLED: f64 = 2.5;
/// The most that a last line is pulled where the line before is not pulled more; and how much more it may look, since
/// steps that ink widens hide the pull.
const MOST_PULLED_LAST: f64 = 1.3;
const HIDDEN: f64 = 1.35;

/// What is wrong with the spacing of a sheet, as sentences.
pub(crate) fn faults(score: &Score, options: &SheetOptions, sheet: &Sheet) -> Vec<String> {
    let scale = options.print.scale();
    let mut faults = Vec::new();
    let mut before = 1.0;
    let systems = systems(score, sheet, scale);
    for (number, steps) in systems.iter().enumerate().filter(|(_, steps)| !steps.is_empty()) {
        let unit = unit(steps);
        let pulled = unit / look::AFTER_QUARTER.count();
        let last = number + 1 == systems.len();
        let most = if last { f64::max(before, MOST_PULLED_LAST) * HIDDEN } else { MOST_PULLED };
        if pulled > most {
            faults.push(format!(
                "system {number} is pulled to {pulled:.2} times its width, the one before to {before:.2}"
            ));
        }
        before = pulled;
        for step in steps {
            let beyond = step.stretch() / unit;
            let is_named = score.tune.chords().iter().any(|chord| chord.at == step.at);
            let most = if is_named { MOST_BEYOND_NAMED } else { MOST_BEYOND };
            if step.white < look::COLUMN_GAP - Points::new(0.05) || beyond > most {
                let (at, white, room) = (step.at.count(), step.white, step.room);
                faults.push(format!(
                    "system {number}: after {at} ticks {room:?} with {white:?} of white, {beyond:.2} times the rule"
                ));
            }
        }
    }
    faults
}
