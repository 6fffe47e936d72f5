//! The easiest route by trying every one: plain recursion over moments, nothing remembered, nothing left out.

use handspan_core::route::Route;

use crate::rules::{Rules, State};

/// What trying everything found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Found {
    /// The least that a route costs.
    Cheapest(i64),
    /// No route: this demand is as far as any gets.
    Impasse(usize),
    /// More routes than the test has time for.
    TooMany,
}

/// Tries every route, up to so many moments gone through in all.
pub(crate) fn exhaustive(rules: &Rules<'_>, most: u64) -> Found {
    let mut attempt = Attempt { rules, left: most, farthest: 0 };
    let cheapest = attempt.cheapest(0, &rules.beginning());
    match cheapest {
        _ if attempt.left == 0 => Found::TooMany,
        Some(cost) => Found::Cheapest(cost),
        None => Found::Impasse(attempt.farthest),
    }
}

struct Attempt<'a> {
    rules: &'a Rules<'a>,
    left: u64,
    /// The last demand that was reached.
    farthest: usize,
}

impl Attempt<'_> {
    fn cheapest(&mut self, moment: usize, before: &State) -> Option<i64> {
        if moment == self.rules.demands().len() {
            return Some(0);
        }
        self.farthest = self.farthest.max(moment);
        let mut least: Option<i64> = None;
        for choice in self.rules.choices(moment, before).iter() {
            if self.left == 0 {
                return None;
            }
            self.left -= 1;
            let (after, cost) = self.rules.take(moment, before, choice);
            if let Some(rest) = self.cheapest(moment + 1, &after) {
                least = Some(least.map_or(cost + rest, |least| least.min(cost + rest)));
            }
        }
        least
    }
}

/// What a route costs by the rules; what is wrong with it where it breaks one.
pub(crate) fn cost_of(rules: &Rules<'_>, route: &Route) -> Result<i64, String> {
    if route.steps.len() != rules.demands().len() {
        return Err(format!("{} steps for {} demands", route.steps.len(), rules.demands().len()));
    }
    let mut state = rules.beginning();
    let mut total = 0;
    for (moment, step) in route.steps.iter().enumerate() {
        let choices = rules.choices(moment, &state);
        let chosen = choices.iter().find(|choice| {
            (choice.grip, choice.struck, choice.melody, choice.bass)
                == (step.grip, step.struck, step.melody, step.bass)
        });
        let Some(chosen) = chosen else {
            return Err(format!("moment {moment} has no such choice: {step:?}"));
        };
        let (after, cost) = rules.take(moment, &state, chosen);
        if cost - chosen.cost != i64::from(step.moved.total().points()) {
            return Err(format!("the move to moment {moment} costs {}: {step:?}", cost - chosen.cost));
        }
        (state, total) = (after, total + cost);
    }
    Ok(total)
}
