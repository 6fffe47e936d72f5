//! The easiest route is the easiest of all: compared with trying every route, on more than a thousand small cases.

mod support;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use handspan_core::arrangement::{Arrangement, Work, arrange, arrange_passage};
use handspan_core::demand::{Accompaniment, Demand, MelodyDemand, Part, demands};
use handspan_core::grip::{BassChoice, Grip, Reach};
use handspan_core::neck::StringIndex;
use handspan_core::pitch::Pitch;
use handspan_core::plan::{Lock, Plan};
use handspan_core::route::{self, Route, Step};
use handspan_core::time::Ticks;
use handspan_core::tune::{Tune, TuneParts};
use handspan_core::watch::{Unwatched, Watch};

use support::cases::{self, Case};
use support::dice::Dice;
use support::exhaustive::{Found, cost_of, exhaustive};
use support::locks;
use support::rules::Rules;

/// How many moments are gone through in all before a case is left out as too large.
const MOST: u64 = 40_000;

/// Lets a search ask so many times, then stops it.
struct Patience(AtomicI64);

impl Watch for Patience {
    fn should_stop(&self) -> bool {
        self.0.fetch_sub(1, Ordering::Relaxed) <= 0
    }

    fn progress(&self, _done: usize, _total: usize) {}
}

fn easiest(case: &Case) -> Option<Route> {
    route::easiest(&case.reach, &case.demands, &Unwatched).ok()
}

/// What is special about a case, to be counted.
fn marks(case: &Case, found: Found, route: Option<&Route>) -> impl Iterator<Item = &'static str> {
    let any = |is: fn(&Demand) -> bool| case.demands.iter().any(is);
    let over_ringing =
        |(demand, step): (&Demand, &Step)| demand.accompaniment.is_none() && step.grip.len() > 1;
    let mut steps = case.demands.iter().zip(route.map_or(&[][..], |route| &route.steps));
    let all = [
        (true, "compared"),
        (any(|d| is_held(d) && d.accompaniment.is_some()), "a melody note is held under a stroke"),
        (steps.any(over_ringing), "ringing notes are kept"),
        (any(|d| !d.lock.is_empty()), "something is locked"),
        (any(|d| d.lock.melody.is_some()), "a melody string is locked"),
        (any(|d| d.lock.bass.is_some()), "a bass is locked"),
        (any(|d| d.lock.grip.is_some()), "a grip is locked"),
        (matches!(found, Found::Impasse(_)), "there is no route"),
    ];
    all.into_iter().filter(|(is, _)| *is).map(|(_, name)| name)
}

const fn is_held(demand: &Demand) -> bool {
    matches!(demand.melody, MelodyDemand::SoundsOn { .. })
}

/// Whether every lock is kept.
fn keeps_locks(case: &Case, route: &Route) -> bool {
    case.demands.iter().zip(&route.steps).all(|(demand, step)| {
        let Lock { melody, bass, grip } = demand.lock;
        let bass_pitch = || {
            let string = step.bass?;
            let place = step.grip.voicing().places().find(|place| place.string == string)?;
            case.reach.instrument().sounding(place)
        };
        let melody_kept = melody.is_none() || step.melody.is_none() || step.melody == melody;
        let bass_kept = demand.accompaniment.is_none()
            || grip.is_some()
            || bass.is_none_or(|bass| bass_pitch().is_none_or(|pitch| bass.admits(pitch)));
        melody_kept && bass_kept && grip.is_none_or(|grip| step.grip.only(step.struck) == grip)
    })
}

#[test]
fn the_easiest_route_is_the_cheapest_of_all_routes() {
    let mut dice = Dice::new(1);
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for number in 0..2_000 {
        let case = cases::case(&mut dice);
        let rules = Rules::new(&case.reach, &case.demands);
        let found = exhaustive(&rules, MOST);
        if found == Found::TooMany {
            continue;
        }
        let route = route::easiest(&case.reach, &case.demands, &Unwatched);
        let said = match &route {
            Ok(route) => Found::Cheapest(route.cost),
            Err(impasse) => Found::Impasse(impasse.demand),
        };
        assert_eq!(said, found, "case {number}: {case:?}");
        if let Ok(route) = &route {
            assert_eq!(cost_of(&rules, route), Ok(route.cost), "case {number}: {case:?}");
            assert!(keeps_locks(&case, route), "case {number}: {route:?} {case:?}");
            assert!(route.proven, "case {number}");
        }
        for mark in marks(&case, found, route.as_ref().ok()) {
            *counts.entry(mark).or_default() += 1;
        }
    }
    let shares = [
        (1_000, "compared"),
        (100, "a melody note is held under a stroke"),
        (100, "ringing notes are kept"),
        (100, "something is locked"),
        (100, "a melody string is locked"),
        (50, "a bass is locked"),
        (100, "a grip is locked"),
        (20, "there is no route"),
    ];
    for (least, mark) in shares {
        let count = counts.get(mark).copied().unwrap_or_default();
        assert!(count >= least, "{mark} in {count} cases, not in {least}: {counts:#?}");
    }
}

#[test]
fn a_stopped_search_has_a_route_wherever_there_is_one() {
    let mut dice = Dice::new(2);
    let mut stopped = 0;
    for number in 0..1_500 {
        let mut case = cases::case(&mut dice);
        // A grip locked under a melody note that sounds on leaves few ways to hold that note.
        if let Some(last) = case.demands.iter().rposition(|d| is_held(d) && d.lock.is_empty()) {
            let grip = locks::playable(&mut dice, &Rules::new(&case.reach, &case.demands), last);
            case.demands[last].lock.grip = grip;
        }
        let patience = Patience(AtomicI64::new(dice.from(0, case.demands.len() as i64 - 1)));
        let hurried = route::easiest(&case.reach, &case.demands, &patience).ok();
        let proven = easiest(&case);
        assert_eq!(hurried.is_some(), proven.is_some(), "case {number}: {case:?}");
        let Some((hurried, proven)) = hurried.zip(proven) else { continue };
        stopped += 1;
        let rules = Rules::new(&case.reach, &case.demands);
        assert!(!hurried.proven, "case {number}");
        assert!(hurried.cost >= proven.cost, "case {number}");
        assert_eq!(cost_of(&rules, &hurried), Ok(hurried.cost), "case {number}: {case:?}");
    }
    assert!(stopped > 1_000, "only {stopped} searches were stopped");
}

/// One bass of those that were admitted; a free one is a tone of the chord.
fn narrower(dice: &mut Dice, wanted: Accompaniment) -> BassChoice {
    let admitted = |pitch: &Pitch| {
        wanted.bass.admits(*pitch)
            && (wanted.bass != BassChoice::Free || wanted.tones.contains(pitch.class()))
    };
    let low: Vec<Pitch> = (36..=60).map(Pitch::new).filter(admitted).collect();
    if low.is_empty() { wanted.bass } else { BassChoice::Exact(dice.pick(&low)) }
}

#[test]
fn one_lock_more_never_makes_a_route_cheaper() {
    let mut dice = Dice::new(3);
    let (mut same, mut dearer, mut none) = (0, 0, 0);
    for number in 0..1_500 {
        let mut case = cases::case(&mut dice);
        let before = easiest(&case).map_or(i64::MAX, |route| route.cost);
        let moment = dice.from(0, case.demands.len() as i64 - 1) as usize;
        let grip = locks::playable(&mut dice, &Rules::new(&case.reach, &case.demands), moment);
        let demand = &mut case.demands[moment];
        match (dice.from(1, 3), &mut demand.accompaniment) {
            (1, _) => {
                let string = StringIndex::new(dice.from(0, 3) as usize);
                demand.lock.melody = demand.lock.melody.or(Some(string));
            }
            (2, Some(wanted)) => {
                wanted.bass = narrower(&mut dice, *wanted);
                demand.lock.bass = Some(wanted.bass);
            }
            _ => demand.lock.grip = demand.lock.grip.or(grip),
        }
        let after = easiest(&case).map_or(i64::MAX, |route| route.cost);
        assert!(after >= before, "case {number}: {before} became {after}: {case:?}");
        let count = if after == before {
            &mut same
        } else if after == i64::MAX {
            &mut none
        } else {
            &mut dearer
        };
        *count += 1;
    }
    assert!(same > 100 && dearer > 100 && none > 50, "{same} the same, {dearer} dearer, {none} impossible");
}

/// The tune with its last note tied over to its first, as at a repeat.
fn tied(tune: Tune) -> Tune {
    let TuneParts { mut melody, .. } = tune.clone().into_parts();
    let last = melody.len() - 1;
    if last == 0 {
        return tune;
    }
    melody[last].written = melody[0].written;
    melody[last].tied_out = true;
    melody[0].tied_in = true;
    Tune::try_new(TuneParts { melody, ..tune.into_parts() }).expect("only a pitch was changed")
}

/// A work of a few moments, some of them locked, half of them with a note tied across a repeat.
fn work(dice: &mut Dice) -> Work {
    let Case { reach, .. } = cases::case(dice);
    let tune = cases::tune(dice, reach.instrument());
    let tune = if dice.percent(50) { tied(tune) } else { tune };
    let locks = cases::plan_locks(dice, &reach, &tune, 25);
    let (instrument, hand) = (reach.instrument().clone(), *reach.hand());
    Work { tune: Arc::new(tune), plan: Plan { instrument, hand, locks, ..Plan::default() } }
}

/// What an arrangement costs by the rules of a route.
fn cost(work: &Work, arrangement: &Arrangement) -> Result<i64, String> {
    let sounding = |at: Ticks, part: Part| {
        let mut notes = arrangement.score.sounding_at(at);
        notes.find(|note| note.part == part).map(|note| note.place.string)
    };
    let steps = arrangement.moments.iter().map(|moment| Step {
        grip: moment.grip,
        struck: moment.struck,
        melody: sounding(moment.at, Part::Melody),
        bass: sounding(moment.at, Part::Bass),
        effort: moment.effort,
        moved: moment.moved,
    });
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let demands = demands(&work.tune, &work.plan);
    cost_of(&Rules::new(&reach, &demands), &Route { steps: steps.collect(), cost: 0, proven: true })
}

/// Where the notes lie that are tied across a repeat.
fn tied_strings(arrangement: &Arrangement) -> Vec<StringIndex> {
    let notes = arrangement.score.notes.iter().filter(|note| note.tied_in || note.tied_out);
    notes.map(|note| note.place.string).collect()
}

/// What is struck at the moments outside of a passage.
fn struck_outside(arrangement: &Arrangement, from: Ticks, to: Ticks) -> Vec<(Ticks, Grip)> {
    let outside = arrangement.moments.iter().filter(|moment| moment.at < from || moment.at >= to);
    outside.map(|moment| (moment.at, moment.grip.only(moment.struck))).collect()
}

#[test]
fn a_passage_of_the_easiest_route_is_the_easiest_there() {
    let mut dice = Dice::new(4);
    let (mut compared, mut ties, mut hurried_ones) = (0, 0, 0);
    for number in 0..800 {
        let work = work(&mut dice);
        let Ok(whole) = arrange(&work, &Unwatched) else { continue };
        let end = work.tune.end().count();
        let (from, to) = (Ticks::new(dice.from(-1, end)), Ticks::new(dice.from(0, end + 1)));
        let again = arrange_passage(&work, &whole, from, to, &Unwatched);
        let again = again.expect("the route as it was is one");
        let costs = [&whole, &again].map(|arrangement| cost(&work, arrangement));
        assert!(
            costs[0].is_ok() && costs[0] == costs[1],
            "case {number}, {from:?} to {to:?}: {costs:?} {work:?}"
        );
        compared += 1;
        let strings = tied_strings(&whole);
        assert!(strings.windows(2).all(|pair| pair[0] == pair[1]), "case {number}: {strings:?} {work:?}");
        ties += usize::from(strings.len() > 1);
        // Among easiest routes that differ in where a tied note lies, either may be found.
        assert!(again == whole || strings.len() > 1, "case {number}, {from:?} to {to:?}: {work:?}");

        let hurried =
            arrange(&work, &Patience(AtomicI64::new(0))).expect("what the patient find, the hurried do");
        let mended =
            arrange_passage(&work, &hurried, from, to, &Unwatched).expect("the hurried route is one");
        assert_eq!(
            struck_outside(&mended, from, to),
            struck_outside(&hurried, from, to),
            "case {number}, {from:?} to {to:?}"
        );
        hurried_ones += usize::from(hurried.moments != whole.moments);
    }
    assert!(compared > 500, "only {compared} compared");
    assert!(ties > 50, "only {ties} with ties");
    assert!(hurried_ones > 0, "no hurried route was another than the easiest");
}

/// The least that a route costs with both ends of the tie on one string, whichever.
fn cheapest_tied(work: &Work) -> Option<i64> {
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let notes = work.tune.melody();
    let ends = [notes[0].at, notes[notes.len() - 1].at];
    let on = |string: StringIndex| {
        let mut demands = demands(&work.tune, &work.plan);
        for demand in demands.iter_mut().filter(|demand| ends.contains(&demand.at)) {
            if demand.lock.melody.is_some_and(|only| only != string) {
                return None;
            }
            demand.lock.melody = Some(string);
        }
        route::easiest(&reach, &demands, &Unwatched).ok().map(|route| route.cost)
    };
    work.plan.instrument.strings().filter_map(on).min()
}

#[test]
fn a_note_tied_over_a_repeat_lies_where_both_ends_are_easiest() {
    let mut dice = Dice::new(6);
    let (mut ties, mut none) = (0, 0);
    for number in 0..1_200 {
        let work = work(&mut dice);
        if !work.tune.melody()[0].tied_in {
            continue;
        }
        let found = arrange(&work, &Unwatched).ok();
        let found = found.map(|arrangement| {
            assert!(arrangement.proven, "case {number}");
            cost(&work, &arrangement).expect("an arrangement keeps the rules")
        });
        assert_eq!(found, cheapest_tied(&work), "case {number}: {work:?}");
        ties += 1;
        none += u32::from(found.is_none());
    }
    assert!(ties > 300 && none > 5, "{ties} ties, {none} that cannot be kept");
}

#[test]
fn nothing_demanded_is_a_route_of_no_cost() {
    let Case { reach, .. } = cases::case(&mut Dice::new(5));
    assert_eq!(
        route::easiest(&reach, &[], &Unwatched),
        Ok(Route { steps: Vec::new(), cost: 0, proven: true })
    );
}
