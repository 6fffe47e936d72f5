//! The accompaniment is struck: whatever rang has ended, but for a melody note that sounds on.

use super::candidates::{Candidate, Strokes};
use super::crowd::{Crowd, Way};
use super::layer::{Key, Layer, State, Target};
use super::lines::LineStrings;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::{Grip, Reach};

/// Every candidate of the stroke by its best way.
pub(super) fn strike(
    layer: &Layer<'_>,
    reach: &Reach,
    strokes: &mut Strokes,
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
        crowd.gather(group.iter().map(|(_, way)| *way));
        let candidates = strokes.of(reach, demand, wanted, &group[0].0).all();
        let piece = candidates.len().div_ceil(layer.pieces(candidates.len())).max(1);
        layer.share(candidates.len(), candidates.chunks(piece), |gatherer, candidates| {
            let mut crowd = crowd.clone();
            for (candidate, hand) in candidates {
                let Candidate { grip, melody, bass, cost } = *candidate;
                let (lines, cost) = (LineStrings::NONE, gatherer.own(cost, bass.is_none()));
                gatherer.add_best(&Target { grip, melody, bass, lines, cost }, hand, &mut crowd);
            }
        });
    }
}

/// What is kept of a state under a stroke.
fn kept(key: &Key, sounds_on: bool) -> Grip {
    let melody = key.melody.filter(|_| sounds_on);
    melody.map_or(Grip::SILENT, |string| key.grip.only([string].into_iter().collect()))
}
