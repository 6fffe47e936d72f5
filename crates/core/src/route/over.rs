//! The ways into a melody note, by what rings.

use std::ops::Range;

use super::crowd::Way;
use super::layer::State;
use super::ringing::{Beside, Fits, NoteSet, Ringing};
use super::weighing::Weighing;
use crate::demand::Demand;
use crate::grip::{Reach, StringSet};
use crate::neck::StringIndex;

/// The ways into a melody note, by what rings.
pub(super) struct Over<'a> {
    demand: &'a Demand,
    weighing: Weighing,
    beside: Beside<'a>,
    groups: Vec<Group>,
    /// The ways of one group after another, the best first.
    ways: Vec<Way>,
}

/// The ways over which the same rings.
pub(super) struct Group {
    pub(super) ringing: Ringing,
    strings: StringSet,
    /// The ringing as a number: groups are sorted by it.
    packed: u128,
    ways: Range<usize>,
    /// For every string the ways to stop the note beside which it can be held.
    fits: Fits,
    /// Those beside which more can be held than the bass.
    more_than_bass: NoteSet,
}

/// What of a group is kept beside a way to stop the note.
pub(super) struct Kept {
    /// It as a number.
    pub(super) packed: u128,
    strings: StringSet,
    /// The number of the group.
    group: u32,
}

impl<'a> Over<'a> {
    /// Groups what leads into a melody note.
    pub(super) fn new(
        reach: &Reach,
        weighing: Weighing,
        before: &[State],
        demand: &'a Demand,
        mut beside: Beside<'a>,
    ) -> Self {
        let (mut ringing, mut order) = (Vec::with_capacity(before.len()), Vec::with_capacity(before.len()));
        for (state, index) in before.iter().zip(0..) {
            let (rings, above) = Ringing::new(reach, &state.key, demand);
            order.push((rings.packed(), (state.cost + weighing.own(above, false), index)));
            ringing.push(rings);
        }
        order.sort_unstable();
        let (mut groups, mut ways) = (Vec::new(), Vec::with_capacity(before.len()));
        for same in order.chunk_by(|(a, _), (b, _)| a == b) {
            let first = ways.len();
            ways.extend(same.iter().map(|(_, way)| *way));
            let (packed, (_, index)) = same[0];
            let ringing = ringing[index as usize];
            let (fits, more_than_bass) = beside.fits(&ringing);
            let strings = ringing.grip.strings();
            groups.push(Group { ringing, strings, packed, ways: first..ways.len(), fits, more_than_bass });
        }
        Self { demand, weighing, beside, groups, ways }
    }

    pub(super) fn groups(&self) -> &[Group] {
        &self.groups
    }

    /// The ways of a group that keep only these of its strings.
    pub(super) fn keeping(&self, group: &Group, strings: StringSet) -> impl Iterator<Item = Way> {
        let gone = group.strings.without(strings);
        let cut = self.weighing.own(group.ringing.cut(gone, self.demand), false);
        self.ways[group.ways.clone()].iter().map(move |(cost, index)| (cost + cut, *index))
    }

    /// As much as can be kept of every group beside a way to stop the note, where that is more than its bass; the same of
    /// several groups side by side.
    pub(super) fn most(&self, note: usize) -> Vec<Kept> {
        let mut all = Vec::new();
        for (group, number) in self.groups.iter().zip(0..) {
            if !group.more_than_bass.contains(note) {
                continue;
            }
            let fits = |string: &StringIndex| group.fits[string.index()].contains(note);
            let one_by_one = group.strings.each().filter(fits).collect();
            let strings = self.beside.most(&group.ringing, one_by_one, note);
            if group.ringing.is_more_than_bass(strings) {
                let whole = strings == group.strings;
                let packed = if whole { group.packed } else { group.ringing.keeping(strings).packed() };
                all.push(Kept { packed, strings, group: number });
            }
        }
        // Much of it is in order already, which a stable sort makes use of.
        all.sort_by_key(|kept| kept.packed);
        all
    }

    /// What several groups keep, which is the same for all of them, and the ways there.
    pub(super) fn kept(&self, same: &[Kept]) -> (Ringing, impl Iterator<Item = Way>) {
        let strings = same[0].strings;
        let group = |kept: &Kept| &self.groups[kept.group as usize];
        (
            group(&same[0]).ringing.keeping(strings),
            same.iter().flat_map(move |kept| self.keeping(group(kept), strings)),
        )
    }
}
