//! The easiest route by trying every one: plain recursion over moments, nothing remembered, nothing left out.

use handspan_core::route::Route;

use crate::rules::{Rules, State};

/// What routes are compared by when the gentlest is meant: basses lost, hardest move, total.
pub(crate) type Gentleness = (i64, i32, i64);

/// What trying everything found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Found {
    /// The least total that a route costs, and what the gentlest is like.
    Best { total: i64, gentlest: Gentleness },
    /// No route: this demand is as far as any gets.
    Impasse(usize),
    /// More routes than the test has time for.
    TooMany,
}

/// Tries every route, up to so many moments gone through in all.
pub(crate) fn exhaustive(rules: &Rules<'_>, most: u64) -> Found {
    let mut attempt = Attempt { rules, left: most, farthest: 0, best: None };
    attempt.follow(0, &rules.beginning(), (0, i32::MIN, 0));
    match attempt.best {
        _ if attempt.left == 0 => Found::TooMany,
        Some((total, gentlest)) => Found::Best { total, gentlest },
        None => Found::Impasse(attempt.farthest),
    }
}

struct Attempt<'a> {
    rules: &'a Rules<'a>,
    left: u64,
    /// The last demand that was reached.
    farthest: usize,
    best: Option<(i64, Gentleness)>,
}

impl Attempt<'_> {
    fn follow(&mut self, moment: usize, before: &State, so_far: Gentleness) {
        let (lost, hardest, total) = so_far;
        if moment == self.rules.demands().len() {
            let (least, gentlest) = self.best.unwrap_or((total, so_far));
            self.best = Some((least.min(total), gentlest.min(so_far)));
            return;
        }
        self.farthest = self.farthest.max(moment);
        for choice in self.rules.choices(moment, before).iter() {
            if self.left == 0 {
                return;
            }
            self.left -= 1;
            let (after, cost) = self.rules.take(moment, before, choice);
            let moved = (cost - choice.cost) as i32;
            let lost = lost + i64::from(choice.loses_bass);
            self.follow(moment + 1, &after, (lost, hardest.max(moved), total + cost));
        }
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
            (choice.grip, choice.struck, choice.melody, choice.bass, choice.lines)
                == (step.grip, step.struck, step.melody, step.bass, step.lines)
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
