//! A route's strokes become notes: when they begin and end, how they are spelled, who plucks them.

use super::score::ScoreNote;
use crate::demand::{Demand, MelodyDemand, Part};
use crate::grip::Reach;
use crate::neck::{Place, StringIndex};
use crate::pitch::Pitch;
use crate::route::right_hand::{Stroke, right_hand};
use crate::route::{Route, Step};
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::{Line, LineNote, Tune};

/// Every stroke as a note, from when it is struck until it is let go.
pub(super) fn notes(reach: &Reach, tune: &Tune, demands: &[Demand], route: &Route) -> Vec<ScoreNote> {
    let strokes: Vec<Stroke> = demands
        .iter()
        .zip(&route.steps)
        .map(|(demand, step)| Stroke {
            struck: step.struck,
            bass: step.bass.filter(|bass| step.struck.contains(*bass)),
            touched: false,
            tapped: false,
            printed: Vec::new(),
            milliseconds: demand.milliseconds,
        })
        .collect();
    let plucks = right_hand(reach.hand(), reach.instrument().string_count(), &strokes);
    let mut notes = Vec::new();
    for (index, (demand, step)) in demands.iter().zip(&route.steps).enumerate() {
        for string in step.struck.iter() {
            let Some(hold) = step.grip.hold(string) else {
                continue;
            };
            let place = Place { string, fret: hold.fret() };
            let melody = match demand.melody {
                MelodyDemand::Begins { note, .. } if step.melody == Some(string) => {
                    Some(&tune.melody()[note])
                }
                _ => None,
            };
            let line = line_note(tune, demand, step, string);
            let until = line.map_or(demand.rings_until, |(_, until)| until);
            let line = line.map(|(note, _)| note);
            let tied_in = melody.is_some_and(|note| note.tied_in);
            notes.push(ScoreNote {
                at: demand.at,
                length: melody
                    .map_or_else(|| ringing(demands, route, index, string, until), |note| note.length),
                written: melody
                    .map(|note| note.written)
                    .or_else(|| line.map(|note| note.written))
                    .unwrap_or_else(|| spelled(tune, reach, demand.at, place)),
                place,
                touch: hold.touch(),
                finger: hold.finger(),
                pluck: plucks[index].finger(string),
                part: part(step, string),
                tied_in,
                tied_out: melody.is_some_and(|note| note.tied_out),
            });
        }
    }
    notes
}

/// The note of a line that is struck on a string, and when it ends.
fn line_note<'a>(
    tune: &'a Tune,
    demand: &Demand,
    step: &Step,
    string: StringIndex,
) -> Option<(&'a LineNote, Ticks)> {
    let lines = [(Line::Bass, step.lines.bass), (Line::Hook, step.lines.hook)];
    let (line, _) = lines.into_iter().find(|(_, on)| *on == Some(string))?;
    Some((tune.line_at(line, demand.at)?, demand.lines.of(line).until()?))
}

fn part(step: &Step, string: StringIndex) -> Part {
    if step.melody == Some(string) {
        Part::Melody
    } else if step.bass == Some(string) {
        Part::Bass
    } else if step.lines.hook == Some(string) {
        Part::Hook
    } else {
        Part::Inner
    }
}

/// How long a note rings that is no melody note: up to its end, or until it is let go.
fn ringing(demands: &[Demand], route: &Route, index: usize, string: StringIndex, end: Ticks) -> Ticks {
    let hold = route.steps[index].grip.hold(string);
    let start = demands[index].at;
    let meanwhile =
        demands.iter().zip(&route.steps).skip(index + 1).take_while(|(demand, _)| demand.at < end);
    let let_go = meanwhile
        .into_iter()
        .find(|(_, step)| step.grip.hold(string) != hold || step.struck.contains(string));
    let_go.map_or(end, |(demand, _)| demand.at) - start
}

/// What sounds at a place, as it is written there.
fn spelled(tune: &Tune, reach: &Reach, at: Ticks, place: Place) -> SpelledPitch {
    tune.spelled(at, reach.instrument().sounding(place).unwrap_or(Pitch::new(0)))
}

/// The notes of the accompaniment that end before their time. Notes of a bass line that do are told one by one.
pub(super) fn cut_short(demands: &[Demand], notes: &[ScoreNote]) -> Vec<(Ticks, Part)> {
    let is_cut = |note: &&ScoreNote| {
        let demand = &demands[demands.partition_point(|demand| demand.at <= note.at) - 1];
        let is_asked_for = match note.part {
            Part::Bass => demand.lines.bass.begins().is_none(),
            Part::Inner => true,
            Part::Melody | Part::Hook | Part::Tap => false,
        };
        is_asked_for && note.at + note.length < demand.rings_until
    };
    notes.iter().filter(is_cut).map(|note| (note.at, note.part)).collect()
}
