//! The melody goes on alone over what rings.

use super::candidates;
use super::crowd::{Crowd, Way};
use super::known::Efforts;
use super::layer::{Layer, State, Target};
use super::lines::{LineStrings, holds_at};
use super::ringing::{Beside, Ringing, rings};
use super::weighing::Weighing;
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::Held;
use crate::grip::{Grip, HandAt, Hold, Reach};
use crate::neck::StringIndex;
use crate::pitch::Pitch;

/// A melody note begins over what rings: everything is kept, or the bass alone, or nothing.
pub(super) fn sing(
    reach: &Reach,
    efforts: &mut Efforts,
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
    song.over_most(&ringing, &holds);
}

/// A string with how the melody note sounds on it.
type MelodyHold = (StringIndex, Hold);

/// The ways over which the same rings, and more than a bass.
struct Group<'a> {
    ways: &'a [(Ringing, Way)],
    held: Held<'a>,
    hand: HandAt,
}

impl<'a> Group<'a> {
    fn new(reach: &'a Reach, ways: &'a [(Ringing, Way)]) -> Option<Self> {
        let ringing = &ways.first()?.0;
        if !ringing.is_more_than_bass(&ringing.grip) {
            return None;
        }
        let held = Held::new(reach, &ringing.grip)?;
        Some(Self { ways, held, hand: HandAt::holding(reach, &ringing.grip) })
    }

    const fn ringing(&self) -> &Ringing {
        &self.ways[0].0
    }
}

struct Song<'a, 'l> {
    reach: &'a Reach,
    efforts: &'a mut Efforts,
    layer: &'a mut Layer<'l>,
    demand: &'a Demand,
}

impl Song<'_, '_> {
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
        let weighing = self.layer.weighing();
        let so_far = |(ringing, way): &(Ringing, Way)| cut(weighing, self.demand, ringing, *way, kept);
        crowd.gather(ways.iter().map(so_far), self.layer.departures());
        let hand = HandAt::holding(self.reach, kept);
        for &(string, hold) in holds.iter().filter(|(string, hold)| held.takes(*string, *hold)) {
            let target = self.target(kept, bass, (string, hold));
            self.layer.add_best(&target, &hand.adding(self.reach, string, hold), &crowd);
        }
    }

    /// A melody note over as much as can be kept of what rings.
    fn over_most(&mut self, ringing: &[(Ringing, Way)], holds: &[MelodyHold]) {
        let groups: Vec<Group<'_>> = ringing
            .chunk_by(|(a, _), (b, _)| a.grip == b.grip && a.bass == b.bass)
            .filter_map(|ways| Group::new(self.reach, ways))
            .collect();
        for &melody in holds {
            let Some(mut beside) = Beside::new(self.reach, melody) else { continue };
            // First what stays whole, then what is let go in part: the former comes in the order of its keys.
            let mut in_part: Vec<(&Group<'_>, Grip)> = Vec::new();
            for group in &groups {
                let ringing = group.ringing();
                let most = beside.one_by_one(&ringing.grip);
                if most == ringing.grip && group.held.takes(melody.0, melody.1) {
                    self.over_part(group, &most, &group.hand, melody);
                } else if ringing.is_more_than_bass(&most) {
                    in_part.push((group, most));
                }
            }
            for (group, most) in in_part {
                let most = beside.together(&most, group.ringing().bass);
                if group.ringing().is_more_than_bass(&most) {
                    self.over_part(group, &most, &HandAt::holding(self.reach, &most), melody);
                }
            }
        }
    }

    /// A melody note over one part of what rings, for all states in which the same rings.
    fn over_part(&mut self, group: &Group<'_>, kept: &Grip, hand: &HandAt, melody: MelodyHold) {
        let bass = group.ringing().bass.filter(|bass| kept.hold(*bass).is_some());
        let target = self.target(kept, bass, melody);
        let hand = hand.adding(self.reach, melody.0, melody.1);
        let weighing = self.layer.weighing();
        let ways = group.ways.iter().map(|(ringing, way)| cut(weighing, self.demand, ringing, *way, kept));
        self.layer.add_from(&target, &hand, ways);
    }

    fn target(&mut self, kept: &Grip, bass: Option<StringIndex>, (string, hold): MelodyHold) -> Target {
        let mut grip = *kept;
        grip.set(string, Some(hold));
        let cost = self.layer.own(self.efforts.of(self.reach, &grip), false);
        Target { grip, melody: Some(string), bass, lines: LineStrings::NONE, cost }
    }
}

/// A way that has let go of what is not kept.
fn cut(weighing: Weighing, demand: &Demand, ringing: &Ringing, (so_far, index): Way, kept: &Grip) -> Way {
    (so_far + weighing.own(ringing.cut(kept, demand), false), index)
}

/// Every way to stop the melody note by itself.
fn melody_holds(reach: &Reach, demand: &Demand, pitch: Pitch) -> Vec<MelodyHold> {
    let mut holds = Vec::new();
    candidates::melody_places(reach, demand, pitch, |place| {
        holds.extend(holds_at(reach, place));
    });
    if let Some(locked) = demand.lock.grip {
        holds.retain(|(string, hold)| locked.hold(*string) == Some(*hold));
    }
    holds
}
