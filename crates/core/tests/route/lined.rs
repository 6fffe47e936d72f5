//! With a bass line and hooks, too, nothing is cheaper than the easiest route, and it costs what it says.

use std::collections::BTreeMap;

use handspan_core::demand::{Demand, LineDemand, MelodyDemand};
use handspan_core::grip::BassChoice;
use handspan_core::pitch::Pitch;
use handspan_core::plan::Aim;
use handspan_core::route;
use handspan_core::time::Ticks;
use handspan_core::tune::Line;
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case};
use crate::dice::Dice;
use crate::exhaustive::{Found, cost_of, exhaustive};
use crate::rules::Rules;

/// How many moments are gone through in all before a case is left out as too large.
const MOST: u64 = 40_000;

/// Writes lines into demands: of both, notes that begin anywhere and last as they like.
fn write_lines(dice: &mut Dice, lowest: Pitch, demands: &mut [Demand]) {
    for line in Line::ALL {
        let mut before = LineDemand::Rest;
        for demand in &mut *demands {
            let now = next(dice, lowest, line, before, demand.at);
            match line {
                Line::Bass => demand.lines.bass = now,
                Line::Hook => demand.lines.hook = now,
            }
            before = now;
        }
    }
    for demand in demands {
        let begins = demand.lines.begin().next().is_some();
        if begins && dice.percent(60) {
            demand.accompaniment = None;
        }
        if let (Some(wanted), Some(pitch)) = (&mut demand.accompaniment, demand.lines.bass.begins()) {
            wanted.bass = BassChoice::Exact(pitch);
        }
    }
}

fn next(dice: &mut Dice, lowest: Pitch, line: Line, before: LineDemand, at: Ticks) -> LineDemand {
    let sounding = before.begins().or(before.sounds_on()).zip(before.until());
    match sounding.filter(|(_, until)| *until > at) {
        _ if dice.percent(40) => {
            let up = if line == Line::Bass { dice.from(0, 8) } else { dice.from(2, 14) };
            let until = at + Ticks::new(dice.from(1, 12) * Ticks::PER_QUARTER / 2);
            LineDemand::Begins { pitch: Pitch::new(lowest.midi() + up as u8), until }
        }
        Some((pitch, until)) => LineDemand::SoundsOn { pitch, until },
        None if sounding.is_some() => LineDemand::Ends,
        None => LineDemand::Rest,
    }
}

fn lined_case(dice: &mut Dice) -> Case {
    let Case { reach, .. } = cases::case(dice);
    let mut demands = cases::demands_by_hand(dice, reach.instrument());
    demands.truncate(dice.from(2, 4) as usize);
    let (lowest, _) = reach.instrument().range();
    write_lines(dice, lowest, &mut demands);
    if dice.percent(30) {
        cases::lock(dice, &reach, &mut demands, 40);
        for demand in &mut demands {
            demand.lock.bass = None;
            if let (Some(wanted), Some(pitch)) = (&mut demand.accompaniment, demand.lines.bass.begins()) {
                wanted.bass = BassChoice::Exact(pitch);
            }
        }
    }
    Case { reach, demands }
}

/// What is special about a case, to be counted.
fn marks(case: &Case, route: &route::Route) -> Vec<&'static str> {
    let mut steps = case.demands.iter().zip(&route.steps);
    let any = |is: &dyn Fn(&Demand, &route::Step) -> bool| steps.clone().any(|(d, s)| is(d, s));
    let on = |line: LineDemand| line.sounds_on().is_some();
    let all = [
        (any(&|d, s| d.lines.bass.begins().is_some() && s.lines.bass.is_some()), "a bass line is struck"),
        (any(&|d, s| d.lines.hook.begins().is_some() && s.lines.hook.is_some()), "a hook is struck"),
        (any(&|d, s| d.lines.hook.begins().is_some() && s.lines.hook.is_none()), "a hook is lost"),
        (any(&|d, s| on(d.lines.bass) && s.lines.bass.is_some()), "a bass line sounds on"),
        (any(&|d, s| on(d.lines.hook) && s.lines.hook.is_some()), "a hook sounds on"),
        (
            any(&|d, s| {
                d.accompaniment.is_none()
                    && d.lines.begin().next().is_some()
                    && s.grip.strings().without(s.struck).iter().any(|string| Some(string) != s.melody)
            }),
            "a line goes on over what rings",
        ),
        (
            any(&|d, s| {
                !s.struck.is_empty()
                    && d.accompaniment.is_none()
                    && !matches!(d.melody, MelodyDemand::Begins { .. })
            }),
            "a line goes on alone",
        ),
        (steps.next().is_some(), "compared"),
    ];
    all.into_iter().filter(|(is, _)| *is).map(|(_, name)| name).collect()
}

#[test]
fn the_easiest_route_with_lines_is_the_best_of_all_routes() {
    let mut dice = Dice::new(4);
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for number in 0..800 {
        let case = lined_case(&mut dice);
        let rules = Rules::new(&case.reach, &case.demands);
        let found = exhaustive(&rules, MOST);
        if found == Found::TooMany {
            continue;
        }
        let routes = [Aim::LeastTotal, Aim::Gentlest]
            .map(|aim| route::easiest(&case.reach, &case.demands, aim, &Unwatched));
        let said = match &routes {
            [Ok(easiest), Ok(gentlest)] => {
                for route in [easiest, gentlest] {
                    assert_eq!(cost_of(&rules, route), Ok(route.cost), "case {number}: {case:?}");
                }
                Found::Best { total: easiest.cost, gentlest: gentlest.rank(Aim::Gentlest) }
            }
            [Err(impasse), _] | [_, Err(impasse)] => Found::Impasse(impasse.demand),
        };
        assert_eq!(said, found, "case {number}: {case:?}");
        for mark in routes[0].iter().flat_map(|route| marks(&case, route)) {
            *counts.entry(mark).or_default() += 1;
        }
    }
    let shares = [
        (500, "compared"),
        (200, "a bass line is struck"),
        (150, "a hook is struck"),
        (50, "a hook is lost"),
        (50, "a bass line sounds on"),
        (15, "a hook sounds on"),
        (50, "a line goes on over what rings"),
        (50, "a line goes on alone"),
    ];
    for (least, mark) in shares {
        let count = counts.get(mark).copied().unwrap_or_default();
        assert!(count >= least, "{mark} in {count} cases, not in {least}: {counts:#?}");
    }
}
