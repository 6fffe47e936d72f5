//! The melody goes on alone over what rings.

use super::candidates;
use super::crowd::Crowd;
use super::layer::{Gatherer, Layer, Reached, State, Target};
use super::lines::{LineStrings, holds_at};
use super::over::{Group, Over};
use super::ringing::{Beside, Ringing};
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::Held;
use crate::grip::{Grip, HandAt, Hold, HoldingOn, Reach};
use crate::neck::StringIndex;
use crate::pitch::Pitch;

/// A melody note begins over what rings: everything is kept, or the bass alone, or nothing.
///
/// Where a stroke comes next and it is known what holding on may save on the way there, states are left out that can't
/// catch up with the same melody note over nothing.
pub(super) fn sing(
    reach: &Reach,
    layer: &Layer<'_>,
    before: &[State],
    demand: &Demand,
    holding_on: Option<&HoldingOn>,
) {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else { return };
    let notes = melody_notes(reach, demand, pitch);
    let over = Over::new(reach, layer.weighing(), before, demand, Beside::new(reach, &notes));
    let alone = layer.alone(|gatherer| Song { reach, gatherer, over: &over }.over_nothing(&notes));
    let most = notes.iter().zip(alone).enumerate().map(|(number, (note, cost))| {
        let alone =
            holding_on.zip(cost).and_then(|(holding_on, cost)| Alone::new(reach, *note, holding_on, cost));
        Piece::Most(number, *note, alone)
    });
    layer.share(before.len(), [Piece::Basses].into_iter().chain(most), |gatherer, piece| {
        let mut song = Song { reach, gatherer, over: &over };
        match piece {
            Piece::Basses => song.over_basses(&notes),
            Piece::Most(number, note, alone) => song.over_most(number, note, alone.as_ref()),
        }
    });
}

/// What is worked out by itself.
enum Piece<'a> {
    /// Every way to stop the note over basses alone.
    Basses,
    /// One of them, over as much as can be kept.
    Most(usize, MelodyNote, Option<Alone<'a>>),
}

/// A string with how the melody note sounds on it.
type MelodyNote = (StringIndex, Hold);

/// A melody note over nothing, before a stroke.
struct Alone<'a> {
    /// What it may save to hold more on the way to the stroke.
    holding_on: &'a HoldingOn,
    hand: HandAt,
    cost: i64,
}

impl<'a> Alone<'a> {
    /// A note that a finger stops: under any other the hand stands where it stood, and with what else it holds it may
    /// stand elsewhere.
    fn new(reach: &Reach, note: MelodyNote, holding_on: &'a HoldingOn, cost: i64) -> Option<Self> {
        let hand = HandAt::holding(reach, &Grip::from_holds([note]));
        hand.position().is_some().then_some(Self { holding_on, hand, cost })
    }

    /// The most that a hand may cost that holds more, if it is to catch up.
    fn enough(&self, full: &HandAt) -> i64 {
        self.cost + i64::from(self.holding_on.most(&self.hand, full))
    }
}

/// Sings over what rings, at one desk.
struct Song<'a, 'g, 'd> {
    reach: &'a Reach,
    gatherer: &'g mut Gatherer<'d>,
    over: &'a Over<'a>,
}

impl<'a> Song<'a, '_, '_> {
    /// Everything that rang is let go. Gives for each way to stop the note what it costs to be there at the least.
    fn over_nothing(&mut self, notes: &[MelodyNote]) -> Vec<Option<i64>> {
        let mut alone = vec![None; notes.len()];
        let nothing = Ringing { grip: Grip::SILENT, bass: None };
        self.over_all(nothing, self.over.groups().iter(), notes, |note, reached| {
            alone[note] = reached.iter().map(Reached::cost).min();
        });
        alone
    }

    /// Everything that rang is let go but the bass.
    fn over_basses(&mut self, notes: &[MelodyNote]) {
        let bass = |group: &'a Group| Some((group.ringing.bass_alone()?, group));
        let mut basses: Vec<(Ringing, &Group)> = self.over.groups().iter().filter_map(bass).collect();
        basses.sort_by_key(|(bass, _)| bass.packed());
        for same in basses.chunk_by(|(a, _), (b, _)| a == b) {
            self.over_all(same[0].0, same.iter().map(|(_, group)| *group), notes, |_, _| ());
        }
    }

    /// A melody note over the same for all of these groups; tells for each way to stop it what is reached.
    fn over_all<'g>(
        &mut self,
        kept: Ringing,
        groups: impl Iterator<Item = &'g Group>,
        notes: &[MelodyNote],
        mut tell: impl FnMut(usize, &[Reached]),
    ) {
        let Some(held) = Held::new(self.reach, &kept.grip) else { return };
        let (over, strings, mut crowd) = (self.over, kept.grip.strings(), Crowd::default());
        crowd.gather(groups.flat_map(|group| over.keeping(group, strings)));
        let takes = |(_, (string, hold)): &(usize, &MelodyNote)| held.takes(*string, *hold);
        for (number, &note) in notes.iter().enumerate().filter(takes) {
            let (target, hand) = self.target(kept, note);
            tell(number, self.gatherer.add_one(&target, &hand, &mut crowd));
        }
    }

    /// A melody note over as much as can be kept of what rings, where that is more than its bass.
    fn over_most(&mut self, number: usize, note: MelodyNote, alone: Option<&Alone<'_>>) {
        for same in self.over.most(number).chunk_by(|a, b| a.packed == b.packed) {
            let (kept, ways) = self.over.kept(same);
            let (target, hand) = self.target(kept, note);
            let enough = alone.map_or(i64::MAX, |alone| alone.enough(&hand));
            self.gatherer.add_from(&target, &hand, ways, enough);
        }
    }

    fn target(&mut self, kept: Ringing, (string, hold): MelodyNote) -> (Target, HandAt) {
        let mut grip = kept.grip;
        grip.set(string, Some(hold));
        let effort = self.gatherer.effort(self.reach, &grip);
        let cost = self.gatherer.own(effort, false);
        let target = Target { grip, melody: Some(string), bass: kept.bass, lines: LineStrings::NONE, cost };
        (target, HandAt::holding(self.reach, &grip))
    }
}

/// Every way to stop the melody note by itself.
fn melody_notes(reach: &Reach, demand: &Demand, pitch: Pitch) -> Vec<MelodyNote> {
    let mut notes = Vec::new();
    candidates::melody_places(reach, demand, pitch, |place| {
        notes.extend(holds_at(reach, place));
    });
    if let Some(locked) = demand.lock.grip {
        notes.retain(|(string, hold)| locked.hold(*string) == Some(*hold));
    }
    notes
}
