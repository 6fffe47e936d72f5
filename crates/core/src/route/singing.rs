//! The melody goes on alone over what rings.

use super::candidates;
use super::crowd::{Crowd, Way};
use super::known::Efforts;
use super::layer::{Layer, State, Target};
use super::ringing::{Ringing, rings};
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::Held;
use crate::grip::{Grip, HandAt, Hold, Reach};
use crate::hand::Finger;
use crate::neck::StringIndex;
use crate::pitch::Pitch;

/// A melody note begins over what rings: everything is kept, or the bass alone, or nothing.
pub(super) fn sing(
    reach: &Reach,
    efforts: &mut Efforts<'_>,
    layer: &mut Layer<'_>,
    before: &[State],
    demand: &Demand,
) {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else { return };
    let mut ringing: Vec<(Ringing, Way)> = before
        .iter()
        .zip(0..)
        .map(|(state, index)| (rings(reach, &state.key, demand), (state.cost, index)))
        .collect();
    ringing.sort_unstable_by_key(|(ringing, way)| (ringing.grip.packed(), ringing.bass, *way));
    let holds = melody_holds(reach, demand, pitch);
    let mut song = Song { reach, efforts, layer, demand };
    song.over_nothing(&ringing, &holds);
    song.over_the_bass(&ringing, &holds);
    for group in ringing.chunk_by(|(a, _), (b, _)| a.grip == b.grip && a.bass == b.bass) {
        song.over_most(group, &holds);
    }
}

/// A string with how the melody note sounds on it.
type MelodyHold = (StringIndex, Hold);

struct Song<'a, 'e, 'l> {
    reach: &'a Reach,
    efforts: &'a mut Efforts<'e>,
    layer: &'a mut Layer<'l>,
    demand: &'a Demand,
}

impl Song<'_, '_, '_> {
    /// Everything that rang is let go.
    fn over_nothing(&mut self, ringing: &[(Ringing, Way)], holds: &[MelodyHold]) {
        self.over(&Grip::SILENT, None, ringing, holds);
    }

    /// Only the bass is kept, where it may be.
    fn over_the_bass(&mut self, ringing: &[(Ringing, Way)], holds: &[MelodyHold]) {
        let bass = |ringing: &Ringing| Some(ringing.grip.only([ringing.bass?].into_iter().collect()));
        let mut over: Vec<(Grip, (Ringing, Way))> =
            ringing.iter().filter_map(|ways| Some((bass(&ways.0)?, *ways))).collect();
        over.sort_by_key(|(kept, _)| kept.packed());
        let mut ways = Vec::new();
        for group in over.chunk_by(|(a, _), (b, _)| a == b) {
            ways.clear();
            ways.extend(group.iter().map(|(_, ways)| *ways));
            self.over(&group[0].0, ways[0].0.bass, &ways, holds);
        }
    }

    /// A melody note over the same for all of these ways.
    fn over(
        &mut self,
        kept: &Grip,
        bass: Option<StringIndex>,
        ways: &[(Ringing, Way)],
        holds: &[MelodyHold],
    ) {
        let Some(held) = Held::new(self.reach, kept) else { return };
        let mut crowd = Crowd::default();
        let so_far = |(ringing, way): &(Ringing, Way)| self.cut(ringing, *way, kept);
        crowd.gather(ways.iter().map(so_far), self.layer.hands());
        let hand = HandAt::holding(self.reach, kept);
        for &(string, hold) in holds.iter().filter(|(string, hold)| held.takes(*string, *hold)) {
            let target = self.target(kept, bass, (string, hold));
            self.layer.add_best(&target, &hand.adding(string, hold), &crowd);
        }
    }

    /// A melody note over as much as can be kept of what rings, for all states in which the same rings.
    fn over_most(&mut self, group: &[(Ringing, Way)], holds: &[MelodyHold]) {
        let ringing = &group[0].0;
        if ringing.grip.len() == usize::from(ringing.bass.is_some()) {
            return;
        }
        let Some(held) = Held::new(self.reach, &ringing.grip) else { return };
        let hand = HandAt::holding(self.reach, &ringing.grip);
        for &(string, hold) in holds {
            let (most, with) = if held.takes(string, hold) {
                (ringing.grip, hand.adding(string, hold))
            } else {
                let most = ringing.most_kept(self.reach, (string, hold));
                (most, HandAt::holding(self.reach, &most).adding(string, hold))
            };
            let bass = ringing.bass.filter(|bass| most.hold(*bass).is_some());
            if most.len() > usize::from(bass.is_some()) {
                let target = self.target(&most, bass, (string, hold));
                for (ringing, way) in group {
                    self.layer.add_from(&target, &with, self.cut(ringing, *way, &most));
                }
            }
        }
    }

    /// A way that has let go of what is not kept.
    fn cut(&self, ringing: &Ringing, (so_far, index): Way, kept: &Grip) -> Way {
        (so_far + self.layer.own(ringing.cut(kept, self.demand), false), index)
    }

    fn target(&mut self, kept: &Grip, bass: Option<StringIndex>, (string, hold): MelodyHold) -> Target {
        let mut grip = *kept;
        grip.set(string, Some(hold));
        let cost = self.layer.own(self.efforts.of(&grip), false);
        Target { grip, melody: Some(string), bass, cost }
    }
}

/// Every way to stop the melody note by itself.
fn melody_holds(reach: &Reach, demand: &Demand, pitch: Pitch) -> Vec<MelodyHold> {
    let mut holds = Vec::new();
    candidates::melody_places(reach, demand, pitch, |place| {
        if place.fret.is_open() {
            holds.push((place.string, Hold::OPEN));
            return;
        }
        let thumb = Some(Finger::Thumb).filter(|_| reach.thumb_may_hold(place.string));
        holds.extend(
            thumb.into_iter().chain(Finger::FOUR).map(|f| (place.string, Hold::stopped(place.fret, f))),
        );
    });
    if let Some(locked) = demand.lock.grip {
        holds.retain(|(string, hold)| locked.hold(*string) == Some(*hold));
    }
    holds
}
