//! Whole arrangements: passages that are found anew, and notes tied over a repeat.

use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Work, arrange, arrange_passage};
use handspan_core::demand::{Part, demands};
use handspan_core::grip::{Grip, Reach};
use handspan_core::neck::StringIndex;
use handspan_core::plan::{Aim, Plan};
use handspan_core::route::{self, LineStrings, Route, Step};
use handspan_core::time::Ticks;
use handspan_core::tune::{Tune, TuneParts};
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case};
use crate::dice::Dice;
use crate::exhaustive::cost_of;
use crate::patience::Patience;
use crate::rules::Rules;

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
pub(crate) fn work(dice: &mut Dice) -> Work {
    let Case { reach, .. } = cases::case(dice);
    let tune = cases::tune(dice, reach.instrument());
    let tune = if dice.percent(50) { tied(tune) } else { tune };
    let locks = cases::plan_locks(dice, &reach, &tune, 25);
    let (instrument, hand) = (reach.instrument().clone(), *reach.hand());
    Work { tune: Arc::new(tune), plan: Plan { instrument, hand, locks, ..Plan::default() } }
}

/// What an arrangement costs by the rules of a route.
pub(crate) fn cost(work: &Work, arrangement: &Arrangement) -> Result<i64, String> {
    let sounding = |at: Ticks, part: Part| {
        let mut notes = arrangement.score.sounding_at(at);
        notes.find(|note| note.part == part).map(|note| note.place.string)
    };
    let steps = arrangement.moments.iter().map(|moment| Step {
        grip: moment.grip,
        struck: moment.struck,
        melody: sounding(moment.at, Part::Melody),
        bass: sounding(moment.at, Part::Bass),
        lines: LineStrings::NONE,
        effort: moment.effort,
        moved: moment.moved,
    });
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let demands = demands(&work.tune, &work.plan);
    cost_of(&Rules::new(&reach, &demands), &Route { steps: steps.collect(), cost: 0, proven: true })
}

/// Where the notes lie that are tied across a repeat.
pub(crate) fn tied_strings(arrangement: &Arrangement) -> Vec<StringIndex> {
    let notes = arrangement.score.notes.iter().filter(|note| note.tied_in || note.tied_out);
    notes.map(|note| note.place.string).collect()
}

/// What is struck at the moments outside of a passage.
pub(crate) fn struck_outside(arrangement: &Arrangement, from: Ticks, to: Ticks) -> Vec<(Ticks, Grip)> {
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

        let hurried = arrange(&work, &Patience::new(0)).expect("what the patient find, the hurried do");
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
        route::easiest(&reach, &demands, Aim::LeastTotal, &Unwatched).ok().map(|route| route.cost)
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
