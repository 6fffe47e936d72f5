//! A search that is stopped has a route to show all the same.

use handspan_core::plan::Aim;
use handspan_core::route;

use crate::cases::{self, is_held};
use crate::dice::Dice;
use crate::exhaustive::cost_of;
use crate::locks;
use crate::patience::Patience;
use crate::rules::Rules;

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
        let patience = Patience::new(dice.from(0, case.demands.len() as i64 - 1));
        let aim = if dice.percent(50) { Aim::LeastTotal } else { Aim::Gentlest };
        let hurried = route::easiest(&case.reach, &case.demands, aim, &patience).ok();
        let proven = case.easiest();
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
