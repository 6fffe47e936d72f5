//! What could not be met, and why.

use super::arrangement::{GiveWay, GiveWayReason};
use crate::demand::{Demand, Part};
use crate::grip::ranking::each_grip;
use crate::grip::{Grip, Reach, VoicingWish, voicings};
use crate::route::{Route, candidates};
use crate::tune::Tune;

/// What could not be met, with the reason.
pub(super) fn give_ways(reach: &Reach, tune: &Tune, demands: &[Demand], route: &Route) -> Vec<GiveWay> {
    let mut all = Vec::new();
    for (demand, step) in demands.iter().zip(&route.steps) {
        let Some(wanted) = demand.accompaniment.filter(|_| demand.lock.grip.is_none()) else {
            continue;
        };
        let held = step.grip.only(step.grip.strings().without(step.struck));
        let beneath =
            step.grip.len() - usize::from(step.melody.is_some()) - usize::from(step.lines.hook.is_some());
        let mut add = |part, reason| {
            all.push(GiveWay { at: demand.at, bar_beat: tune.bar_beat(demand.at), part, reason });
        };
        // A note of a bass line is told by itself.
        if step.bass.is_none() && demand.lines.bass.begins().is_none() {
            add(Part::Bass, why_not(reach, demand, &candidates::wish(demand, wanted, &held, reach), 2));
        }
        if beneath <= usize::from(step.bass.is_some()) {
            add(Part::Inner, why_not(reach, demand, &candidates::wish(demand, wanted, &held, reach), 3));
        }
    }
    all
}

/// Why a moment has fewer than so many notes.
pub(super) fn why_not(reach: &Reach, demand: &Demand, wish: &VoicingWish, notes: usize) -> GiveWayReason {
    let more = VoicingWish { notes: notes..=(*wish.notes.end()).max(notes), ..wish.clone() };
    let bare = VoicingWish { held: Grip::SILENT, melody: demand.melody.pitch(), ..more.clone() };
    let exists = |wish: &VoicingWish| {
        let mut any = false;
        voicings(reach.instrument(), None, wish, |_| any = true);
        any
    };
    let mut holdable = false;
    each_grip(reach, &more, |_| holdable = true);
    match (exists(&bare), holdable) {
        (false, _) => GiveWayReason::NoRoomBelowMelody,
        (true, false) => GiveWayReason::OutOfReach,
        (true, true) => GiveWayReason::NotWorthItsEffort,
    }
}
