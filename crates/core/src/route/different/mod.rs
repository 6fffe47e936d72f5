//! The best routes that are really different, exactly.
//!
//! The first route is the easiest; each further one is the easiest of those that have at most so many grips in common
//! with every route before it. What they may have in common is a limit on a sum along the route, so this is a cheapest
//! way with limited resources, and it is found as those are (Handler and Zang 1980; Beasley and Christofides 1989):
//! `graph` lays out everything that lies on a route within a slack of the easiest; `prices` puts a price on every grip
//! of an earlier route, which bounds from below what a different route costs; `labels` looks for the best way under
//! these bounds. Where the best way within the slack does not prove to be the best of all, `ground` widens the slack.
//! For the gentlest hardest move `gentlest` finds how hard it has to be for every route anew. `field` is the music, arranged or written, moment by moment.

mod arranged;
mod field;
mod gentlest;
mod graph;
mod ground;
mod labels;
mod limits;
mod prices;
mod written;

pub use arranged::different_routes;
pub use written::different_written;

use self::field::{Ended, Field};
use self::ground::Ground;
use super::layer::Key;
use super::weighing::Weighing;
use crate::grip::Grip;
use crate::plan::Aim;
use crate::watch::Watch;

/// Of how many moments in a hundred two routes that are really different may have the same grip: the same strings at
/// the same frets under the same fingers.
///
/// With a finger swapped here and there two routes are the same to a player; where the hand does something else in
/// every second moment they are two. (The project's own, no source.)
pub const MOST_OVERLAP: usize = 50;

/// How many of so many moments two routes that are really different may have in common.
pub fn in_common(moments: usize) -> usize {
    moments * MOST_OVERLAP / 100
}

/// How many routes there are at most.
pub const MOST_ROUTES: usize = 9;

/// A way through the field.
#[derive(Clone, Debug)]
struct Way {
    /// What the hand holds, the beginning first, then every moment.
    keys: Vec<Key>,
    cost: i64,
    /// Whether no way is better that is different enough from those before.
    proven: bool,
}

impl Way {
    fn grip(&self, moment: usize) -> Grip {
        self.keys[moment + 1].grip
    }
}

/// The best ways that are really different, the best first.
///
/// There are fewer than `count` where no more are different enough, or where the watch stopped the search.
fn different(field: &mut impl Field, aim: Aim, count: usize, watch: &dyn Watch) -> Result<Vec<Way>, Ended> {
    let count = count.min(MOST_ROUTES);
    let weighing = match aim {
        Aim::LeastTotal => Weighing::TOTAL,
        Aim::Gentlest => gentlest::weighing(field, watch)?,
    };
    let mut ground = Ground::new(field, weighing, watch)?;
    let mut ways = vec![ground.easiest()];
    ways.truncate(count);
    while ways.len() < count {
        watch.progress(ways.len(), count);
        let next = match aim {
            Aim::LeastTotal => ground.next(field, &ways, watch),
            Aim::Gentlest => gentlest::next(field, &mut ground, &ways, watch),
        };
        match next {
            Ok(Some(way)) => ways.push(way),
            Ok(None) | Err(_) => break,
        }
    }
    Ok(ways)
}
