//! Tune and plan become an arrangement.

use std::sync::Arc;

use itertools::Itertools as _;
use thiserror::Error;

use super::arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
use super::score::{Score, ScoreNote};
use super::seams::{Tied, easiest_tied};
use crate::demand::{Demand, MelodyDemand, Part, demands};
use crate::grip::{Grip, Reach, StringSet, VoicingWish, voicings};
use crate::harmony::ChordSymbol;
use crate::neck::{Instrument, Place, StringIndex};
use crate::pitch::{Interval, Pitch};
use crate::plan::Lock;
use crate::route::{self, Route, candidates, right_hand};
use crate::spelling::{SpelledPitch, Spelling};
use crate::time::Ticks;
use crate::tune::{BarBeat, Tune};
use crate::watch::Watch;

/// Why a tune cannot be arranged as planned.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Impossible {
    /// A melody note lies beyond the instrument.
    #[error(
        "the melody note {note} in {bar_beat} lies beyond this instrument; {}",
        transpositions_sentence(transpositions)
    )]
    OutOfRange {
        /// Where.
        bar_beat: BarBeat,
        /// The note.
        note: SpelledPitch,
        /// The transpositions of the tune as written that lie within, nearest first.
        transpositions: Vec<Interval>,
    },
    /// The tune would leave the range of MIDI.
    #[error("moved by {0} semitones the tune would leave the range of notes that exist")]
    BeyondMidi(i16),
    /// What is locked cannot be kept.
    #[error(
        "no hand can keep what is locked in {bar_beat} together with the melody; unlock it, or lock another grip"
    )]
    Lock {
        /// When, in written order.
        at: Ticks,
        /// Where.
        bar_beat: BarBeat,
    },
}

fn transpositions_sentence(transpositions: &[Interval]) -> String {
    if transpositions.is_empty() {
        return "its range is too wide for any transposition".to_owned();
    }
    let list = transpositions.iter().map(|t| format!("{:+}", t.semitones())).join(", ");
    format!("it can be played when the tune is moved by one of these numbers of semitones: {list}")
}

/// How far from the tune as written transpositions are looked for, in semitones.
const FARTHEST_TRANSPOSITION: i16 = 24;

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

/// What the player may choose among at a moment: the voicings with its melody note on top and its bass beneath, in
/// three to five notes.
pub fn wish_at(work: &Work, arrangement: &Arrangement, moment: usize) -> Option<VoicingWish> {
    let tune = &arrangement.score.tune;
    let at = arrangement.moments.get(moment)?.at;
    let demands = demands(tune, &work.plan);
    let demand = demands.iter().find(|d| d.at == at)?;
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    let mut wish = match (chord, demand.melody.pitch()) {
        (Some(chord), melody) => VoicingWish { melody, ..VoicingWish::for_chord(chord) },
        (None, Some(melody)) => VoicingWish::melody_alone(melody),
        (None, None) => return None,
    };
    if let Some(bass) = demand.lock.bass {
        wish.bass = bass;
    }
    wish.melody_string = demand.lock.melody;
    if matches!(demand.melody, MelodyDemand::SoundsOn { .. }) {
        let melody =
            arrangement.score.sounding_at(at).filter(|n| n.part == Part::Melody).map(|n| n.place.string);
        wish.held = arrangement.moments[moment].grip.only(melody.collect());
    }
    Some(wish)
}

/// The tune as it sounds, once every melody note is known to lie on the instrument.
fn sounding(work: &Work) -> Result<Arc<Tune>, Impossible> {
    let instrument = &work.plan.instrument;
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

/// The transpositions under which every melody note has a place, the nearest first.
pub fn transpositions(tune: &Tune, instrument: &Instrument) -> Vec<Interval> {
    let playable = |interval: &Interval| {
        let mut moved = tune.melody().iter().map(|note| note.pitch().checked_add(*interval));
        moved.all(|pitch| pitch.is_some_and(|p| instrument.places(p).next().is_some()))
    };
    let all = (-FARTHEST_TRANSPOSITION..=FARTHEST_TRANSPOSITION).map(Interval::new).filter(playable);
    all.sorted_by_key(|interval| (interval.semitones().abs(), interval.semitones())).collect()
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

/// Every stroke as a note, from when it is struck until it is let go.
fn notes(reach: &Reach, tune: &Tune, demands: &[Demand], route: &Route) -> Vec<ScoreNote> {
    let struck: Vec<(StringSet, i64)> =
        demands.iter().zip(&route.steps).map(|(d, step)| (step.struck, d.milliseconds)).collect();
    let plucks = right_hand::right_hand(reach.hand(), reach.instrument().string_count(), &struck);
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

/// What could not be met, with the reason.
fn give_ways(reach: &Reach, tune: &Tune, demands: &[Demand], route: &Route) -> Vec<GiveWay> {
    let mut all = Vec::new();
    for (demand, step) in demands.iter().zip(&route.steps) {
        let Some(wanted) = demand.accompaniment.filter(|_| demand.lock.grip.is_none()) else {
            continue;
        };
        let held = step.grip.only(step.grip.strings().without(step.struck));
        let beneath = step.grip.len() - usize::from(step.melody.is_some());
        let mut add = |part, reason| {
            all.push(GiveWay { at: demand.at, bar_beat: tune.bar_beat(demand.at), part, reason });
        };
        if step.bass.is_none() {
            add(Part::Bass, why_not(reach, demand, &candidates::wish(demand, wanted, &held, reach), 2));
        }
        if beneath <= usize::from(step.bass.is_some()) {
            add(Part::Inner, why_not(reach, demand, &candidates::wish(demand, wanted, &held, reach), 3));
        }
    }
    all
}

/// Why a moment has fewer than so many notes.
fn why_not(reach: &Reach, demand: &Demand, wish: &VoicingWish, notes: usize) -> GiveWayReason {
    let more = VoicingWish { notes: notes..=(*wish.notes.end()).max(notes), ..wish.clone() };
    let bare = VoicingWish { held: Grip::SILENT, melody: demand.melody.pitch(), ..more.clone() };
    let exists = |wish: &VoicingWish| {
        let mut any = false;
        voicings(reach.instrument(), None, wish, |_| any = true);
        any
    };
    let mut holdable = false;
    crate::grip::ranking::each_grip(reach, &more, |_| holdable = true);
    match (exists(&bare), holdable) {
        (false, _) => GiveWayReason::NoRoomBelowMelody,
        (true, false) => GiveWayReason::OutOfReach,
        (true, true) => GiveWayReason::NotWorthItsEffort,
    }
}
