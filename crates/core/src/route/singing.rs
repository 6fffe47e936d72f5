//! The melody goes on alone over what rings.

use std::ops::Range;

use super::candidates;
use super::crowd::{Crowd, Way};
use super::known::Efforts;
use super::layer::{Layer, State, Target};
use super::lines::{LineStrings, holds_at};
use super::ringing::{Beside, Ringing};
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
    let over = Over::new(reach, layer.weighing(), before, demand);
    let holds = melody_holds(reach, demand, pitch);
    let mut song = Song { reach, efforts, layer, over: &over };
    song.over_nothing(&holds);
    song.over_the_bass(&holds);
    for melody in holds {
        song.over_most(melody);
    }
}

/// A string with how the melody note sounds on it.
type MelodyHold = (StringIndex, Hold);

/// The ways into a moment, by what rings.
struct Over<'a> {
    demand: &'a Demand,
    weighing: Weighing,
    groups: Vec<Group<'a>>,
    /// The ways of one group after another, the best first.
    ways: Vec<Way>,
}

/// The ways over which the same rings.
struct Group<'a> {
    ringing: Ringing,
    ways: Range<usize>,
    /// Where more than a bass rings, the hand that holds it.
    held: Option<Held<'a>>,
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
            let held = ringing.is_more_than_bass().then(|| Held::new(reach, &ringing.grip)).flatten();
            over.groups.push(Group { ringing, ways: first..over.ways.len(), held });
        }
        over
    }

    /// The ways of a group that have let go of what is not kept.
    fn cut(&self, group: &Group<'_>, kept: &Ringing) -> impl Iterator<Item = Way> {
        let cut = self.weighing.own(group.ringing.cut(&kept.grip, self.demand), false);
        self.ways[group.ways.clone()].iter().map(move |(cost, index)| (cost + cut, *index))
    }
}

struct Song<'a, 'l> {
    reach: &'a Reach,
    efforts: &'a mut Efforts,
    layer: &'a mut Layer<'l>,
    over: &'a Over<'a>,
}

impl<'a> Song<'a, '_> {
    /// Everything that rang is let go.
    fn over_nothing(&mut self, holds: &[MelodyHold]) {
        let nothing = Ringing { grip: Grip::SILENT, bass: None };
        self.over(nothing, self.over.groups.iter(), holds);
    }

    /// Only the bass is kept, where it may be.
    fn over_the_bass(&mut self, holds: &[MelodyHold]) {
        let bass = |group: &'a Group<'_>| Some((group.ringing.bass_alone()?, group));
        let mut over: Vec<(Ringing, &Group<'_>)> = self.over.groups.iter().filter_map(bass).collect();
        over.sort_by_key(|(bass, _)| bass.packed());
        for same in over.chunk_by(|(a, _), (b, _)| a == b) {
            self.over(same[0].0, same.iter().map(|(_, group)| *group), holds);
        }
    }

    /// A melody note over the same for all of these groups.
    fn over<'g>(&mut self, kept: Ringing, groups: impl Iterator<Item = &'g Group<'g>>, holds: &[MelodyHold]) {
        let Some(held) = Held::new(self.reach, &kept.grip) else { return };
        let (over, mut crowd) = (self.over, Crowd::default());
        crowd.gather(groups.flat_map(|group| over.cut(group, &kept)));
        for &melody in holds.iter().filter(|(string, hold)| held.takes(*string, *hold)) {
            let (target, hand) = self.target(kept, melody);
            self.layer.add_best(&target, &hand, &mut crowd);
        }
    }

    /// A melody note over as much as can be kept of what rings, where that is more than its bass.
    fn over_most(&mut self, melody: MelodyHold) {
        let over = self.over;
        let Some(mut beside) = Beside::new(self.reach, melody) else { return };
        let (mut kept, mut in_part) = (Vec::new(), Vec::new());
        for group in &over.groups {
            let Some(held) = &group.held else { continue };
            let most = group.ringing.keeping(beside.one_by_one(&group.ringing.grip));
            if most == group.ringing && held.takes(melody.0, melody.1) {
                kept.push((most.packed(), most, group));
            } else if most.is_more_than_bass() {
                in_part.push((most.packed(), most, group));
            }
        }
        in_part.sort_unstable_by_key(|(packed, ..)| *packed);
        for same in in_part.chunk_by(|(a, ..), (b, ..)| a == b) {
            let most = same[0].1;
            let most = most.keeping(beside.together(&most.grip, most.bass));
            if most.is_more_than_bass() {
                kept.extend(same.iter().map(|(.., group)| (most.packed(), most, *group)));
            }
        }
        // What is kept whole is in order already, which a stable sort makes use of.
        kept.sort_by_key(|(packed, ..)| *packed);
        for same in kept.chunk_by(|(a, ..), (b, ..)| a == b) {
            let most = same[0].1;
            let (target, hand) = self.target(most, melody);
            let ways = same.iter().flat_map(|(.., group)| over.cut(group, &most));
            self.layer.add_from(&target, &hand, ways);
        }
    }

    fn target(&mut self, kept: Ringing, (string, hold): MelodyHold) -> (Target, HandAt) {
        let mut grip = kept.grip;
        grip.set(string, Some(hold));
        let cost = self.layer.own(self.efforts.of(self.reach, &grip), false);
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
