//! Solving anew after an edit gives what solving from scratch gives.

use handspan_core::demand::Demand;
use handspan_core::plan::{Aim, Lock};
use handspan_core::route::{Finder, easiest};
use handspan_core::watch::Unwatched;

use crate::cases::{self, Case};
use crate::dice::Dice;
use crate::locks;
use crate::patience::Patience;
use crate::rules::Rules;

/// Another lock, another pace, or a moment less.
fn edit(dice: &mut Dice, case: &Case, demands: &mut Vec<Demand>) {
    let moment = dice.from(0, demands.len() as i64 - 1) as usize;
    match dice.from(1, 10) {
        1 => demands[moment].milliseconds += dice.from(-60, 200).max(1 - demands[moment].milliseconds),
        2 => demands.truncate((demands.len() - 1).max(1)),
        3..=5 => demands[moment].lock = Lock::default(),
        _ => demands[moment].lock = locks::lock(dice, &Rules::new(&case.reach, demands), moment),
    }
}

#[test]
fn solving_anew_after_an_edit_is_solving_from_scratch() {
    let mut dice = Dice::new(11);
    let (mut edits, mut impossible, mut stopped) = (0, 0, 0);
    for number in 0..300 {
        let case = cases::case(&mut dice);
        let mut demands = case.demands.clone();
        let mut finder = Finder::new(&case.reach);
        for _ in 0..12 {
            edit(&mut dice, &case, &mut demands);
            let aim = dice.pick(&[Aim::LeastTotal, Aim::LeastTotal, Aim::Gentlest]);
            if dice.percent(20) {
                let patience = Patience::new(dice.from(0, demands.len() as i64));
                stopped += usize::from(finder.easiest(&demands, aim, &patience).is_ok_and(|r| !r.proven));
            }
            let anew = finder.easiest(&demands, aim, &Unwatched);
            let from_scratch = easiest(&case.reach, &demands, aim, &Unwatched);
            assert_eq!(anew, from_scratch, "case {number}, {aim:?}: {demands:?}");
            edits += 1;
            impossible += usize::from(anew.is_err());
        }
    }
    assert!(edits > 3_000 && impossible > 100 && stopped > 100, "{impossible} impossible, {stopped} stopped");
}
