//! A route's strokes become notes: when they begin and end, how they are spelled, who plucks them.

use super::score::ScoreNote;
use crate::demand::{Demand, MelodyDemand, Part};
use crate::grip::Reach;
use crate::harmony::ChordSymbol;
use crate::neck::{Place, StringIndex};
use crate::pitch::Pitch;
use crate::route::Route;
use crate::route::right_hand::{Stroke, right_hand};
use crate::spelling::{SpelledPitch, Spelling};
use crate::time::Ticks;
use crate::tune::Tune;

/// Every stroke as a note, from when it is struck until it is let go.
pub(super) fn notes(reach: &Reach, tune: &Tune, demands: &[Demand], route: &Route) -> Vec<ScoreNote> {
    let strokes: Vec<Stroke> = demands
        .iter()
        .zip(&route.steps)
        .map(|(demand, step)| Stroke {
            struck: step.struck,
            bass: step.bass.filter(|bass| step.struck.contains(*bass)),
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
            let place = Place { string, fret: hold.fret };
            let melody = match demand.melody {
                MelodyDemand::Begins { note, .. } if step.melody == Some(string) => {
                    Some(&tune.melody()[note])
                }
                _ => None,
            };
            let tied_in = melody.is_some_and(|note| note.tied_in);
            notes.push(ScoreNote {
                at: demand.at,
                length: melody.map_or_else(|| ringing(demands, route, index, string), |note| note.length),
                written: melody.map_or_else(|| spelled(tune, reach, demand.at, place), |note| note.written),
                place,
                finger: hold.finger,
                pluck: plucks[index].finger(string),
                part: part(step.melody, step.bass, string),
                tied_in,
                tied_out: melody.is_some_and(|note| note.tied_out),
            });
        }
    }
    notes
}

fn part(melody: Option<StringIndex>, bass: Option<StringIndex>, string: StringIndex) -> Part {
    if melody == Some(string) {
        Part::Melody
    } else if bass == Some(string) {
        Part::Bass
    } else {
        Part::Inner
    }
}

/// How long an accompaniment note rings: its time, or until it is let go.
fn ringing(demands: &[Demand], route: &Route, index: usize, string: StringIndex) -> Ticks {
    let hold = route.steps[index].grip.hold(string);
    let (start, end) = (demands[index].at, demands[index].rings_until);
    let meanwhile =
        demands.iter().zip(&route.steps).skip(index + 1).take_while(|(demand, _)| demand.at < end);
    let let_go = meanwhile
        .into_iter()
        .find(|(_, step)| step.grip.hold(string) != hold || step.struck.contains(string));
    let_go.map_or(end, |(demand, _)| demand.at) - start
}

/// A chord tone as the chord spells it.
fn spelled(tune: &Tune, reach: &Reach, at: Ticks, place: Place) -> SpelledPitch {
    let pitch = reach.instrument().sounding(place).unwrap_or(Pitch::new(0));
    let key = tune.bars()[tune.bar_index(at)].key;
    let by_key = || Spelling::of_class_in(pitch.class(), i32::from(key.fifths()));
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    SpelledPitch::new(pitch, chord.map_or_else(by_key, |chord| chord.spell(pitch.class(), key)))
}
