//! Of the routes that are different enough from those before, nothing is cheaper than the next one.

use std::ops::Range;

use handspan_core::grip::Grip;
use handspan_core::route::different::in_common;
use handspan_core::route::{Route, different_routes};
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case};
use crate::dice::Dice;
use crate::exhaustive::cost_of;
use crate::rules::{Rules, State};

/// How many moments are gone through in all before a case is left out as too large.
const MOST: usize = 40_000;

/// What a route costs, and its grips.
type Told = (i64, Vec<Grip>);

/// Every route there is; none where there are too many.
fn all_routes(rules: &Rules<'_>) -> Option<Vec<Told>> {
    let mut all = Vec::new();
    let mut left = MOST;
    follow(rules, &rules.beginning(), &mut (0, Vec::new()), &mut all, &mut left);
    (left > 0).then_some(all)
}

fn follow(rules: &Rules<'_>, before: &State, so_far: &mut Told, all: &mut Vec<Told>, left: &mut usize) {
    let moment = so_far.1.len();
    if moment == rules.demands().len() {
        all.push(so_far.clone());
        return;
    }
    for choice in rules.choices(moment, before).iter() {
        if *left == 0 {
            return;
        }
        *left -= 1;
        let (after, cost) = rules.take(moment, before, choice);
        so_far.0 += cost;
        so_far.1.push(choice.grip);
        follow(rules, &after, so_far, all, left);
        so_far.0 -= cost;
        so_far.1.pop();
    }
}

/// How many grips two routes have in common.
fn common(a: &[Grip], b: &[Grip], within: &Range<usize>) -> usize {
    within.clone().filter(|moment| a[*moment] == b[*moment]).count()
}

fn grips(route: &Route) -> Vec<Grip> {
    route.steps.iter().map(|step| step.grip).collect()
}

/// The least that a route costs that is different enough from all of these.
fn cheapest_apart(all: &[Told], earlier: &[Vec<Grip>], within: &Range<usize>) -> Option<i64> {
    let most = in_common(within.len());
    let apart = |grips: &[Grip]| earlier.iter().all(|other| common(grips, other, within) <= most);
    all.iter().filter(|(_, grips)| apart(grips)).map(|(cost, _)| *cost).min()
}

#[test]
fn each_route_is_the_cheapest_of_those_that_are_different_enough() {
    let mut dice = Dice::new(7);
    let (mut compared, mut routes, mut fewer) = (0, 0, 0);
    for number in 0..2_000 {
        let case = cases::case(&mut dice);
        let Case { reach, demands } = &case;
        let rules = Rules::new(reach, demands);
        let Some(all) = all_routes(&rules) else { continue };
        let first = dice.from(0, demands.len() as i64 - 1) as usize;
        let within = if dice.percent(50) { 0..demands.len() } else { first..demands.len().min(first + 3) };
        let count = dice.from(1, 5) as usize;
        let found = different_routes(reach, demands, within.clone(), count, &Unwatched).unwrap_or_default();
        let mut earlier: Vec<Vec<Grip>> = Vec::new();
        for route in &found {
            assert_eq!(cost_of(&rules, route), Ok(route.cost), "case {number}: {case:?}");
            let least = cheapest_apart(&all, &earlier, &within);
            assert_eq!(Some(route.cost), least, "case {number}, route {}: {case:?}", earlier.len());
            let most = in_common(within.len());
            assert!(earlier.iter().all(|other| common(&grips(route), other, &within) <= most));
            assert!(route.proven, "case {number}");
            earlier.push(grips(route));
        }
        if found.len() < count {
            assert_eq!(cheapest_apart(&all, &earlier, &within), None, "case {number}: {case:?}");
            fewer += 1;
        }
        compared += 1;
        routes += found.len();
    }
    assert!(compared > 1_000 && routes > 2_500, "{routes} routes in {compared} cases");
    assert!(fewer > 100, "only {fewer} cases have no more routes");
}
