//! The same costs by a shortest-path library from outside, on the first moments of demo tunes and on written music.
//!
//! Every state of a moment is a node; what may follow it comes from the plain program's rules, one state at a time.

use std::sync::Arc;

use handspan_core::arrangement::Work;
use handspan_core::demand::demands;
use handspan_core::grip::{Grip, Reach};
use handspan_core::plan::{Aim, Plan};
use handspan_core::route::candidates::Strokes;
use handspan_core::route::{Shapes, easiest, easiest_written};
use handspan_core::watch::Unwatched;
use pathfinding::prelude::dijkstra;

use super::plain::{Key, State, follow, strike_written};
use super::tunes::{demo_tunes, read};
use super::written::written_demands;

/// So many moments of a tune are enough: the library goes through every transition one by one.
const MOMENTS: usize = 5;
/// So many onsets of written music.
const ONSETS: usize = 60;
/// Added to every step, since the library takes no negative costs; all routes have as many steps.
const ABOVE_CREDITS: i64 = 1_000;

/// The least cost from the beginning to the last of so many moments.
fn cheapest(moments: usize, mut after: impl FnMut(usize, &Key) -> Vec<State>) -> Option<i64> {
    let successors = |(moment, key): &(usize, Key)| -> Vec<((usize, Key), i64)> {
        let next = after(*moment, key).into_iter();
        next.map(|state| ((moment + 1, state.key), state.cost + ABOVE_CREDITS)).collect()
    };
    let start = (0, State::beginning().key);
    let (_, cost) = dijkstra(&start, successors, |(moment, _)| *moment == moments)?;
    Some(cost - ABOVE_CREDITS * moments as i64)
}

#[test]
fn a_library_finds_the_same_cost_for_the_beginnings_of_demo_tunes() {
    for path in demo_tunes().unwrap() {
        let work = Work { tune: Arc::new(read(&path).unwrap()), plan: Plan::default() };
        let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
        let demands = &demands(&work.tune, &work.plan)[..MOMENTS];
        let mut strokes = Strokes::default();
        let after = |moment: usize, key: &Key| {
            follow(&reach, &mut strokes, &[State::at(&reach, *key)], &demands[moment]).states
        };
        let found = easiest(&reach, demands, Aim::LeastTotal, &Unwatched).unwrap();
        assert_eq!(cheapest(MOMENTS, after), Some(found.cost), "{}", path.display());
    }
}

#[test]
fn a_library_finds_the_same_cost_for_written_music() {
    for path in demo_tunes().unwrap() {
        let (reach, demands) = written_demands(read(&path).unwrap(), ONSETS).unwrap();
        let shapes = Shapes::new(&reach, &demands);
        let after = |moment: usize, key: &Key| {
            let shape = |grip: &Grip| i64::from(shapes.effort(&reach, moment, grip).points());
            strike_written(&reach, &[State::at(&reach, *key)], &demands[moment], shape).states
        };
        let found = easiest_written(&reach, &demands, Aim::LeastTotal, &Unwatched).unwrap().unwrap();
        assert_eq!(cheapest(ONSETS, after), Some(found.cost), "{}", path.display());
    }
}
