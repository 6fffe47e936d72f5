//! Different routes whose hardest move is as gentle as can be.
//!
//! Routes are compared by the basses they lose, then by their hardest move, then by their total. Being different
//! enough may cost a harder move: how hard it has to be is found by halving, since what can be had without a harder
//! move than some can be had with one.

use super::Way;
use super::field::{Ended, Field};
use super::ground::Ground;
use crate::route::layer::cheapest;
use crate::route::weighing::Weighing;
use crate::watch::Watch;

/// No move is gentler.
const GENTLEST: i32 = -1_000_000;

/// The weighing that allows no harder move than the easiest way needs.
pub(super) fn weighing(field: &mut impl Field, watch: &dyn Watch) -> Result<Weighing, Ended> {
    let layers = field.pass(Weighing::HardestMove, watch)?;
    Ok(Weighing::no_harder_than(cheapest(&layers).map_or(0, |state| state.cost)))
}

/// The best way that is different enough from all before, if there is any. `ground` allows no harder move than that of the
/// way before, and then than that of the way that is found.
pub(super) fn next(
    field: &mut impl Field,
    ground: &mut Ground,
    ways: &[Way],
    watch: &dyn Watch,
) -> Result<Option<Way>, Ended> {
    let before = ways.last().map_or((0, GENTLEST), |way| (basses_lost(way), hardest(field, way)));
    let as_gentle = ground.next(field, ways, watch)?;
    if as_gentle.as_ref().is_some_and(|way| basses_lost(way) == before.0) {
        return Ok(as_gentle);
    }
    let Some(mut best) = Ground::new(field, Weighing::TOTAL, watch)?.next(field, ways, watch)? else {
        return Ok(None);
    };
    let lost = basses_lost(&best);
    let mut too_gentle = if lost == before.0 { before.1 } else { GENTLEST };
    let mut enough = hardest(field, &best);
    while too_gentle + 1 < enough {
        let between = too_gentle + (enough - too_gentle) / 2;
        match no_harder_than(between, field, ways, watch) {
            Ok(Some(way)) if basses_lost(&way) == lost => {
                enough = hardest(field, &way);
                best = way;
            }
            Ok(_) => too_gentle = between,
            Err(_) => return Ok(Some(Way { proven: false, ..best })),
        }
    }
    *ground = Ground::new(field, Weighing::Total { hardest: enough }, watch)?;
    Ok(Some(best))
}

/// The cheapest way without a harder move that is different enough from all before, if there is any.
fn no_harder_than(
    hardest: i32,
    field: &mut impl Field,
    ways: &[Way],
    watch: &dyn Watch,
) -> Result<Option<Way>, Ended> {
    match Ground::new(field, Weighing::Total { hardest }, watch) {
        Ok(mut ground) => ground.next(field, ways, watch),
        Err(Ended::Impasse(_)) => Ok(None),
        Err(stopped) => Err(stopped),
    }
}

fn basses_lost(way: &Way) -> i64 {
    Weighing::basses_lost(way.cost)
}

fn hardest(field: &mut impl Field, way: &Way) -> i32 {
    let moves = way.keys.iter().zip(way.keys.iter().skip(1)).enumerate();
    moves.map(|(moment, (from, to))| field.moved(moment, from, to)).max().unwrap_or(0)
}
