//! Of the routes that are different enough from those before, nothing is better than the next one.

use std::ops::Range;

use handspan_core::grip::Grip;
use handspan_core::plan::Aim;
use handspan_core::route::different::in_common;
use handspan_core::route::{Route, different_routes};
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case};
use crate::dice::Dice;
use crate::exhaustive::cost_of;
use crate::rules::{Rules, State};

/// How many moments are gone through in all before a case is left out as too large.
const MOST: usize = 8_000;

/// What tells which of two routes is better, and the grips by which they differ.
#[derive(Clone, Default)]
struct Told {
    basses_lost: i64,
    hardest: Option<i32>,
    cost: i64,
    grips: Vec<Grip>,
}

impl Told {
    fn rank(&self, aim: Aim) -> (i64, i32, i64) {
        match aim {
            Aim::LeastTotal => (0, 0, self.cost),
            Aim::Gentlest => (self.basses_lost, self.hardest.unwrap_or(0), self.cost),
        }
    }
}

/// Every route there is; none where there are too many.
fn all_routes(rules: &Rules<'_>) -> Option<Vec<Told>> {
    let mut all = Vec::new();
    let mut left = MOST;
    follow(rules, &rules.beginning(), &Told::default(), &mut all, &mut left);
    (left > 0).then_some(all)
}

fn follow(rules: &Rules<'_>, before: &State, so_far: &Told, all: &mut Vec<Told>, left: &mut usize) {
    let moment = so_far.grips.len();
    let Some(demand) = rules.demands().get(moment) else {
        all.push(so_far.clone());
        return;
    };
    for choice in rules.choices(moment, before).iter() {
        if *left == 0 {
            return;
        }
        *left -= 1;
        let (after, cost) = rules.take(moment, before, choice);
        let mut told = so_far.clone();
        told.basses_lost += i64::from(demand.accompaniment.is_some() && choice.bass.is_none());
        told.hardest = told.hardest.max(Some((cost - choice.cost) as i32));
        told.cost += cost;
        told.grips.push(choice.grip);
        follow(rules, &after, &told, all, left);
    }
}

/// Whether two routes have no more grips in common than is allowed.
fn apart(a: &[Grip], b: &[Grip], within: &Range<usize>) -> bool {
    within.clone().filter(|moment| a[*moment] == b[*moment]).count() <= in_common(within.len())
}

fn grips(route: &Route) -> Vec<Grip> {
    route.steps.iter().map(|step| step.grip).collect()
}

#[test]
fn each_route_is_the_best_of_those_that_are_different_enough() {
    let mut dice = Dice::new(7);
    let (mut compared, mut routes, mut fewer, mut harder) = (0, 0, 0, 0);
    for number in 0..1_500 {
        let case = cases::case(&mut dice);
        let Case { reach, demands } = &case;
        let rules = Rules::new(reach, demands);
        let Some(all) = all_routes(&rules) else { continue };
        let first = dice.from(0, demands.len() as i64 - 1) as usize;
        let within = if dice.percent(50) { 0..demands.len() } else { first..demands.len().min(first + 3) };
        let aim = dice.pick(&[Aim::LeastTotal, Aim::Gentlest]);
        let count = dice.from(1, 5) as usize;
        let found = different_routes(reach, demands, within.clone(), aim, count, &Unwatched);
        let found = found.unwrap_or_default();
        let mut earlier: Vec<Vec<Grip>> = Vec::new();
        let best = |earlier: &[Vec<Grip>]| {
            let left = all.iter().filter(|told| earlier.iter().all(|e| apart(&told.grips, e, &within)));
            left.map(|told| told.rank(aim)).min()
        };
        for route in &found {
            assert_eq!(cost_of(&rules, route), Ok(route.cost), "case {number}: {case:?}");
            assert_eq!(Some(route.rank(aim)), best(&earlier), "case {number}, {aim:?}: {case:?}");
            assert!(earlier.iter().all(|other| apart(&grips(route), other, &within)), "case {number}");
            assert!(route.proven, "case {number}");
            earlier.push(grips(route));
        }
        if found.len() < count {
            assert_eq!(best(&earlier), None, "case {number}, {aim:?}: {case:?}");
            fewer += 1;
        }
        harder += usize::from(found.windows(2).any(|pair| pair[0].rank(aim).1 < pair[1].rank(aim).1));
        compared += 1;
        routes += found.len();
    }
    assert!(compared > 700 && routes > 1_500, "{routes} routes in {compared} cases");
    assert!(fewer > 100 && harder > 30, "no more routes in {fewer} cases, harder ones in {harder}");
}
