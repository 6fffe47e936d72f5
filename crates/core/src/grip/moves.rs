//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;
pub use super::hand_at::HandAt;
pub use super::pace::Pace;
use super::reach::Reach;

/// The time a move has when nothing says how fast the tune goes: a beat at 120.
pub const USUAL_MILLISECONDS: i64 = 500;

/// A reason why a move costs effort.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum MoveTerm {
    /// The hand travels along the neck; more in less time.
    Shift,
    /// Fingers come down on new places.
    Landing,
    /// A finger hops to another string at once.
    Hopping,
    /// A finger keeps its place: a credit.
    Pivot,
    /// A finger slides along its string: a credit.
    Guide,
    /// An open string rings while the hand travels: a credit.
    OpenRinging,
}

impl MoveTerm {
    /// Every term, in the order in which they are shown.
    pub const ALL: [Self; 6] =
        [Self::Shift, Self::Landing, Self::Hopping, Self::Pivot, Self::Guide, Self::OpenRinging];

    /// The term in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Shift => "shift",
            Self::Landing => "fingers landing",
            Self::Hopping => "finger hopping",
            Self::Pivot => "pivot finger",
            Self::Guide => "guide finger",
            Self::OpenRinging => "open string ringing",
        }
    }
}

/// The effort of a move, term by term.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct MoveEffort {
    points: [i32; MoveTerm::ALL.len()],
}

impl MoveEffort {
    /// Adds points to a term.
    pub const fn add(&mut self, term: MoveTerm, points: i32) {
        self.points[term as usize] += points;
    }

    /// What one term costs.
    pub const fn term(&self, term: MoveTerm) -> Effort {
        Effort::new(self.points[term as usize])
    }

    /// The terms that cost or gain something.
    pub fn terms(&self) -> impl Iterator<Item = (MoveTerm, Effort)> + '_ {
        MoveTerm::ALL.into_iter().map(|t| (t, self.term(t))).filter(|(_, e)| *e != Effort::NONE)
    }

    /// All terms together.
    pub fn total(&self) -> Effort {
        Effort::new(self.points.iter().sum())
    }
}

/// What changes between two hands. Effort of a move is nothing but the sum of what its changes cost.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Change {
    /// A digit stays where it is; a barre may be lifted in part.
    Stays(usize),
    /// A digit slides along its string.
    Slides,
    /// A digit goes to another string at once.
    Hops,
    /// A digit comes down on a place where it was not.
    Lands,
    /// The hand travels from one position to another, both known.
    Shifts(u8, u8),
    /// An open string rings while it travels.
    Rings,
}

impl Change {
    /// The term under which a player sees it.
    pub(super) const fn term(self) -> MoveTerm {
        match self {
            Self::Stays(_) => MoveTerm::Pivot,
            Self::Slides => MoveTerm::Guide,
            Self::Hops => MoveTerm::Hopping,
            Self::Lands => MoveTerm::Landing,
            Self::Shifts(..) => MoveTerm::Shift,
            Self::Rings => MoveTerm::OpenRinging,
        }
    }
}

/// Names every change from one hand to the next.
///
/// This is the one statement of what a move is: its effort, its terms and the learning of its weights all come from
/// here. The first position of a tune costs nothing to take: there is all the time one likes.
#[inline]
pub(super) fn each_change(from: &HandAt, next: &HandAt, mut changed: impl FnMut(Change)) {
    for digit in 0..5 {
        let (old, new) = (from.fret(digit), next.fret(digit));
        if new == 0 {
            continue;
        }
        let (old_strings, strings) = (from.strings(digit), next.strings(digit));
        // A barre may be lifted in part; laid over more strings it lands anew.
        if old == new && strings.without(old_strings).is_empty() {
            changed(Change::Stays(digit));
            continue;
        }
        if old != 0 {
            if strings.intersection(old_strings).is_empty() {
                changed(Change::Hops);
            } else if old != new {
                changed(Change::Slides);
            }
        }
        changed(Change::Lands);
    }
    let (here, there) = (from.standing(), next.standing());
    if here != 0 && there != 0 && here != there {
        changed(Change::Shifts(here, there));
        if from.rings() && next.rings() {
            changed(Change::Rings);
        }
    }
}

/// The effort of changing from one hand to the next within so many milliseconds.
///
/// Who asks more than once at one pace is faster with a [`Pace`].
pub fn move_effort(reach: &Reach, from: &HandAt, next: &HandAt, milliseconds: i64) -> MoveEffort {
    Pace::new(reach, milliseconds).effort(from, next)
}
