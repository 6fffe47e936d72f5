//! The accompaniment is struck: whatever rang has ended, but for a melody note that sounds on.

use super::candidates::{Candidate, Candidates, Strokes};
use super::crowd::{Crowd, Way};
use super::layer::{Key, Layer, State, Target};
use super::lines::LineStrings;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::Grip;

/// Every candidate of the stroke by its best way.
pub(super) fn strike(
    layer: &mut Layer<'_>,
    strokes: &mut Strokes<'_>,
    before: &[State],
    demand: &Demand,
    wanted: Accompaniment,
) {
    let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
    let mut ways: Vec<(Grip, Way)> = before
        .iter()
        .zip(0..)
        .map(|(state, index)| (kept(&state.key, sounds_on), (state.cost, index)))
        .collect();
    if sounds_on {
        ways.sort_by_key(|(held, _)| held.packed());
    }
    let mut crowd = Crowd::default();
    for group in ways.chunk_by(|(a, _), (b, _)| a == b) {
        crowd.gather(group.iter().map(|(_, way)| *way), layer.hands());
        let candidates = strokes.of(demand, wanted, &group[0].0);
        arrive(layer, &crowd, candidates, |layer, candidate| {
            let Candidate { grip, melody, bass, cost, .. } = *candidate;
            let lines = LineStrings::NONE;
            Some(Target { grip, melody, bass, lines, cost: layer.own(cost, bass.is_none()) })
        });
    }
}

/// Adds what comes of every candidate by its best way from a crowd.
pub(super) fn arrive(
    layer: &mut Layer<'_>,
    crowd: &Crowd,
    candidates: &Candidates,
    target: impl Fn(&Layer<'_>, &Candidate) -> Option<Target>,
) {
    let arrivals: Vec<_> = candidates.hands.iter().map(|hand| layer.best(crowd, hand)).collect();
    for (candidate, hand_index) in &candidates.all {
        let Some(target) = target(layer, candidate) else { continue };
        let hand = &candidates.hands[*hand_index as usize];
        if hand.position().is_none() {
            layer.add_best(&target, hand, crowd);
        } else if let Some(arrival) = arrivals[*hand_index as usize] {
            layer.count(crowd.len() as u64);
            layer.add(&target, hand, arrival);
        }
    }
}

/// What is kept of a state under a stroke.
fn kept(key: &Key, sounds_on: bool) -> Grip {
    let melody = key.melody.filter(|_| sounds_on);
    melody.map_or(Grip::SILENT, |string| key.grip.only([string].into_iter().collect()))
}
