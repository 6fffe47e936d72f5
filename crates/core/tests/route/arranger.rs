//! An arranger that remembers gives what one gives that remembers nothing, whatever is locked and unlocked in between.

use std::sync::Arc;

use handspan_core::arrangement::{Arranger, Work, arrange};
use handspan_core::demand::demands;
use handspan_core::grip::Reach;
use handspan_core::plan::{Aim, Lock, Plan};
use handspan_core::watch::Unwatched;

use crate::cases;
use crate::dice::Dice;
use crate::locks;
use crate::rules::Rules;

#[test]
fn arranging_anew_after_locks_is_arranging_from_scratch() {
    let mut dice = Dice::new(21);
    let (mut arranged, mut impossible) = (0, 0);
    for number in 0..60 {
        let reach = cases::case(&mut dice).reach;
        let tune = Arc::new(cases::tune(&mut dice, reach.instrument()));
        let (instrument, hand) = (reach.instrument().clone(), *reach.hand());
        let mut work = Work { tune, plan: Plan { instrument, hand, ..Plan::default() } };
        let mut arranger = Arranger::default();
        for _ in 0..8 {
            lock_or_unlock(&mut dice, &reach, &mut work);
            let anew = arranger.arrange(&work, &Unwatched);
            assert_eq!(anew, arrange(&work, &Unwatched), "case {number}: {:?}", work.plan.locks);
            arranged += usize::from(anew.is_ok());
            impossible += usize::from(anew.is_err());
        }
    }
    assert!(arranged > 200 && impossible > 10, "{arranged} arranged, {impossible} impossible");
}

/// Locks something at one moment, frees it, or changes what is best; now and then another hand plays.
fn lock_or_unlock(dice: &mut Dice, reach: &Reach, work: &mut Work) {
    let demands = demands(&work.tune, &work.plan);
    let moment = dice.from(0, demands.len() as i64 - 1) as usize;
    let lock = match dice.from(1, 10) {
        1..=4 => Lock::default(),
        _ => locks::lock(dice, &Rules::new(reach, &demands), moment),
    };
    work.plan.locks.set(demands[moment].at, lock);
    work.plan.aim = dice.pick(&[Aim::LeastTotal, Aim::LeastTotal, Aim::Gentlest]);
    if dice.percent(10) {
        work.plan.hand.thumb = !work.plan.hand.thumb;
    }
}
