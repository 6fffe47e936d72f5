//! A search that is lent processors finds the route that it finds alone, whichever piece is done first.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use handspan_core::plan::Aim;
use handspan_core::route;
use handspan_core::watch::{Piece, Unwatched, Watch};

use crate::cases;
use crate::dice::Dice;

/// Lends a thread to every piece, the last one first, and counts the times when there were several.
#[derive(Default)]
struct Lender {
    lent: AtomicUsize,
}

impl Watch for Lender {
    fn should_stop(&self) -> bool {
        false
    }

    fn progress(&self, _done: usize, _total: usize) {}

    fn at_once(&self) -> usize {
        3
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        self.lent.fetch_add(usize::from(pieces.len() > 1), Ordering::Relaxed);
        thread::scope(|scope| pieces.into_iter().rev().for_each(|piece| drop(scope.spawn(piece))));
    }
}

#[test]
fn a_route_is_the_same_alone_and_side_by_side() {
    let mut dice = Dice::new(33);
    let lender = Lender::default();
    let mut found = 0;
    for number in 0..400 {
        let case = cases::case(&mut dice);
        let aim = if dice.percent(70) { Aim::LeastTotal } else { Aim::Gentlest };
        let alone = route::easiest(&case.reach, &case.demands, aim, &Unwatched);
        let together = route::easiest(&case.reach, &case.demands, aim, &lender);
        assert_eq!(alone, together, "case {number}: {case:?}");
        found += usize::from(alone.is_ok());
    }
    let lent = lender.lent.load(Ordering::Relaxed);
    assert!(found > 300 && lent > 150, "{found} routes, {lent} times side by side");
}
