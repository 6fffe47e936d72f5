//! Nothing is cheaper than the easiest route, and it costs what it says.

use std::collections::BTreeMap;

use handspan_core::demand::Demand;
use handspan_core::plan::{Aim, Lock};
use handspan_core::route::{self, Route, Step};
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case, is_held};
use crate::dice::Dice;
use crate::exhaustive::{Found, cost_of, exhaustive};
use crate::rules::Rules;

/// How many moments are gone through in all before a case is left out as too large.
const MOST: u64 = 40_000;

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

/// What the search finds for a case under both aims, each route checked by the rules.
fn found_by_search(case: &Case, rules: &Rules<'_>, number: i32) -> (Found, Option<Route>) {
    let [easiest, gentlest] = [Aim::LeastTotal, Aim::Gentlest].map(|aim| {
        let route = route::easiest(&case.reach, &case.demands, aim, &Unwatched);
        if let Ok(route) = &route {
            assert_eq!(cost_of(rules, route), Ok(route.cost), "case {number}: {case:?}");
            assert!(keeps_locks(case, route), "case {number}: {route:?} {case:?}");
            assert!(route.proven, "case {number}");
        }
        route
    });
    match (easiest, gentlest) {
        (Ok(easiest), Ok(gentlest)) => {
            let gentlest = gentlest.rank(Aim::Gentlest);
            (Found::Best { total: easiest.cost, gentlest }, Some(easiest))
        }
        (easiest, gentlest) => {
            let impasse = easiest.expect_err("under one aim there is no route");
            assert_eq!(gentlest, Err(impasse), "case {number}: {case:?}");
            (Found::Impasse(impasse.demand), None)
        }
    }
}

#[test]
fn the_easiest_and_the_gentlest_route_are_the_best_of_all_routes() {
    let mut dice = Dice::new(1);
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for number in 0..2_000 {
        let case = cases::case(&mut dice);
        let rules = Rules::new(&case.reach, &case.demands);
        let found = exhaustive(&rules, MOST);
        if found == Found::TooMany {
            continue;
        }
        let (said, route) = found_by_search(&case, &rules, number);
        assert_eq!(said, found, "case {number}: {case:?}");
        for mark in marks(&case, found, route.as_ref()) {
            *counts.entry(mark).or_default() += 1;
        }
    }
    let shares = [
        (1_500, "compared"),
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
fn nothing_demanded_is_a_route_of_no_cost() {
    let Case { reach, .. } = cases::case(&mut Dice::new(5));
    assert_eq!(
        route::easiest(&reach, &[], Aim::LeastTotal, &Unwatched),
        Ok(Route { steps: Vec::new(), cost: 0, proven: true })
    );
}
