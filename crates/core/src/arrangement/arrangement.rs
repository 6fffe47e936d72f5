//! The work (tune and plan) and the arrangement that comes of it.

use std::sync::Arc;

use super::score::Score;
use crate::demand::Part;
use crate::grip::{Effort, Grip, GripEffort, MoveEffort, StringSet};
use crate::plan::Plan;
use crate::route::Early;
use crate::time::Ticks;
use crate::tune::{BarBeat, Tune};

/// What a player works on: the tune as given and the plan made for it. Everything else follows from it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Work {
    /// What was given.
    pub tune: Arc<Tune>,
    /// What was decided.
    pub plan: Plan,
}

/// A tune arranged for one guitar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Arrangement {
    /// Every note, for paper and files.
    pub score: Score,
    /// The route: one grip for every moment, in written order.
    pub moments: Vec<Moment>,
    /// The fingers that may go down before their moment, in the order in which they land.
    pub early: Vec<Early>,
    /// What could not be met, in order of time.
    pub give_ways: Vec<GiveWay>,
    /// The basses and inner notes, by when they begin, that end before the accompaniment is struck again or rests: the
    /// hand has to go on.
    pub cut_short: Vec<(Ticks, Part)>,
    /// Effort of all grips and moves together.
    pub effort: Effort,
    /// Whether the route is proven to be the easiest; false when the search was stopped early.
    pub proven: bool,
}

impl Arrangement {
    /// The index of the moment that begins at or last before a time.
    pub fn moment_index(&self, at: Ticks) -> usize {
        self.moments.partition_point(|m| m.at <= at).saturating_sub(1)
    }

    /// The fingers that may be down at a moment already, though they aren't needed yet.
    pub fn early_at(&self, moment: usize) -> impl Iterator<Item = &Early> {
        self.early.iter().filter(move |early| early.waits_at(moment))
    }
}

/// A moment of the route: what is held and struck, and what it costs to hold it and to get there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Moment {
    /// When, in written order.
    pub at: Ticks,
    /// Until the next moment.
    pub length: Ticks,
    /// How much time the move to it has.
    pub milliseconds: i64,
    /// Everything that sounds: struck now or still ringing.
    pub grip: Grip,
    /// The strings struck now.
    pub struck: StringSet,
    /// What the grip costs.
    pub effort: GripEffort,
    /// What the move from the moment before costs.
    pub moved: MoveEffort,
}

/// A demand that could not be met.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GiveWay {
    /// When.
    pub at: Ticks,
    /// The same as players say it.
    pub bar_beat: BarBeat,
    /// What gave way.
    pub part: Part,
    /// Why.
    pub reason: GiveWayReason,
}

/// Why a demand could not be met.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum GiveWayReason {
    /// The instrument has no such note below the melody note.
    NoRoomBelowMelody,
    /// No hand holds it together with the melody note and what must ring on.
    OutOfReach,
    /// It can be held, but only at the price of a part of higher rank or of a far harder route.
    NotWorthItsEffort,
    /// A written note ends early, because no hand can hold it on and play what follows.
    LetGo,
    /// A note of a line ends early, because playing may go on elsewhere from there: at a repeat or a jump.
    CutAtSeam,
    /// The arranger has locked something else in its place.
    LockedOtherwise,
    /// Written-out music: no hand can hold the notes under the fingers and on the strings that are printed.
    MarkRefused,
    /// Written-out music: no hand can play it as a harmonic; it is played as an ordinary note.
    HarmonicRefused,
    /// Written-out music: the right hand needs its thumb for what is plucked together with a tap.
    ThumbPlucks,
}
