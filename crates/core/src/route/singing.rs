//! The melody goes on alone over what rings.

use std::ops::Range;

use super::candidates;
use super::crowd::{Crowd, Way};
use super::layer::{Gatherer, Layer, State, Target};
use super::lines::{LineStrings, holds_at};
use super::ringing::{Beside, Ringing};
use super::weighing::Weighing;
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::Held;
use crate::grip::{Grip, HandAt, Hold, Reach, StringSet};
use crate::neck::StringIndex;
use crate::pitch::Pitch;

/// A melody note begins over what rings: everything is kept, or the bass alone, or nothing.
pub(super) fn sing(reach: &Reach, layer: &Layer<'_>, before: &[State], demand: &Demand) {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else { return };
    let over = Over::new(reach, layer.weighing(), before, demand);
    let holds = melody_holds(reach, demand, pitch);
    let pieces = [Piece::Little(&holds)].into_iter().chain(holds.iter().map(|hold| Piece::Most(*hold)));
    layer.share(before.len(), pieces, |gatherer, piece| {
        let mut song = Song { reach, gatherer, over: &over };
        match piece {
            Piece::Little(holds) => song.over_little(holds),
            Piece::Most(hold) => song.over_most(hold),
        }
    });
}

/// What is worked out by itself.
enum Piece<'a> {
    /// The melody over nothing, and over basses alone.
    Little(&'a [MelodyHold]),
    /// A note over as much as can be kept, where that is more than its bass.
    Most(MelodyHold),
}

/// A string with how the melody note sounds on it.
type MelodyHold = (StringIndex, Hold);

/// The ways into a moment, by what rings.
struct Over<'a> {
    demand: &'a Demand,
    weighing: Weighing,
    groups: Vec<Group>,
    /// The ways of one group after another, the best first.
    ways: Vec<Way>,
}

/// The ways over which the same rings.
struct Group {
    ringing: Ringing,
    strings: StringSet,
    ways: Range<usize>,
}

impl<'a> Over<'a> {
    fn new(reach: &'a Reach, weighing: Weighing, before: &[State], demand: &'a Demand) -> Self {
        let (mut ringing, mut order) = (Vec::new(), Vec::with_capacity(before.len()));
        for (state, index) in before.iter().zip(0..) {
            let (rings, above) = Ringing::new(reach, &state.key, demand);
            order.push((rings.packed(), (state.cost + weighing.own(above, false), index)));
            ringing.push(rings);
        }
        order.sort_unstable();
        let ways = Vec::with_capacity(before.len());
        let mut over = Self { demand, weighing, groups: Vec::new(), ways };
        for group in order.chunk_by(|(a, _), (b, _)| a == b) {
            let first = over.ways.len();
            over.ways.extend(group.iter().map(|(_, way)| *way));
            let ringing = ringing[group[0].1.1 as usize];
            let strings = ringing.grip.strings();
            over.groups.push(Group { ringing, strings, ways: first..over.ways.len() });
        }
        over
    }

    /// The ways of a group that have let go of what is not kept.
    fn cut(&self, group: &Group, kept: &Ringing) -> impl Iterator<Item = Way> {
        let cut = self.weighing.own(group.ringing.cut(&kept.grip, self.demand), false);
        self.ways[group.ways.clone()].iter().map(move |(cost, index)| (cost + cut, *index))
    }
}

/// Sings over what rings, at one desk.
struct Song<'a, 'g, 'd> {
    reach: &'a Reach,
    gatherer: &'g mut Gatherer<'d>,
    over: &'a Over<'a>,
}

impl<'a> Song<'a, '_, '_> {
    /// Everything that rang is let go, or everything but the bass.
    fn over_little(&mut self, holds: &[MelodyHold]) {
        let nothing = Ringing { grip: Grip::SILENT, bass: None };
        let groups: &'a [Group] = &self.over.groups;
        let bass = |group: &'a Group| Some((group.ringing.bass_alone()?, group));
        let mut over: Vec<(Ringing, &Group)> = groups.iter().map(|group| (nothing, group)).collect();
        over.extend(groups.iter().filter_map(bass));
        over.sort_by_key(|(kept, _)| kept.packed());
        for same in over.chunk_by(|(a, _), (b, _)| a == b) {
            self.over_all(same[0].0, same.iter().map(|(_, group)| *group), holds);
        }
    }

    /// A melody note over the same for all of these groups.
    fn over_all<'g>(&mut self, kept: Ringing, groups: impl Iterator<Item = &'g Group>, holds: &[MelodyHold]) {
        let Some(held) = Held::new(self.reach, &kept.grip) else { return };
        let (over, mut crowd) = (self.over, Crowd::default());
        crowd.gather(groups.flat_map(|group| over.cut(group, &kept)));
        for &melody in holds.iter().filter(|(string, hold)| held.takes(*string, *hold)) {
            let (target, hand) = self.target(kept, melody);
            self.gatherer.add_best(&target, &hand, &mut crowd);
        }
    }

    /// A melody note over as much as can be kept of what rings, where that is more than its bass.
    fn over_most(&mut self, note: MelodyHold) {
        let over = self.over;
        let Some(mut beside) = Beside::new(self.reach, note) else { return };
        let (mut kept, mut in_doubt) = (Vec::new(), Vec::new());
        for group in &over.groups {
            let Group { ringing, strings, .. } = group;
            let one_by_one = beside.one_by_one(&ringing.grip, *strings);
            if !ringing.is_more_than_bass(one_by_one) {
                continue;
            }
            let most = ringing.keeping(one_by_one);
            let all =
                if beside.needs_no_barre(&ringing.grip, one_by_one) { &mut kept } else { &mut in_doubt };
            all.push((most.packed(), most, group));
        }
        in_doubt.sort_unstable_by_key(|(packed, ..)| *packed);
        for same in in_doubt.chunk_by(|(a, ..), (b, ..)| a == b) {
            let most = same[0].1;
            let together = beside.together(&most.grip, most.bass);
            if most.is_more_than_bass(together) {
                let most = most.keeping(together);
                kept.extend(same.iter().map(|(.., group)| (most.packed(), most, *group)));
            }
        }
        // Much of it is in order already, which a stable sort makes use of.
        kept.sort_by_key(|(packed, ..)| *packed);
        for same in kept.chunk_by(|(a, ..), (b, ..)| a == b) {
            let most = same[0].1;
            let (target, hand) = self.target(most, note);
            let ways = same.iter().flat_map(|(.., group)| over.cut(group, &most));
            self.gatherer.add_from(&target, &hand, ways);
        }
    }

    fn target(&mut self, kept: Ringing, (string, hold): MelodyHold) -> (Target, HandAt) {
        let mut grip = kept.grip;
        grip.set(string, Some(hold));
        let effort = self.gatherer.effort(self.reach, &grip);
        let cost = self.gatherer.own(effort, false);
        let target = Target { grip, melody: Some(string), bass: kept.bass, lines: LineStrings::NONE, cost };
        (target, HandAt::holding(self.reach, &grip))
    }
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
