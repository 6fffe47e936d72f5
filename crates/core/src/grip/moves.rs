//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;
pub use super::hand_at::HandAt;
pub use super::pace::{Pace, haste};
use super::reach::Reach;
use super::weights::Table;
use crate::hand::Finger;

/// The time a move has when nothing says how fast the tune goes: a beat at 120.
pub const USUAL_MILLISECONDS: i64 = 500;

/// A reason why a move costs effort.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum MoveTerm {
    /// The hand travels along the neck; more in less time.
    Shift,
    /// Fingers come down on new places, and others are lifted.
    Landing,
    /// A finger goes to another string at once.
    Hopping,
    /// A finger keeps its place: a credit.
    Pivot,
    /// A finger slides along its string: a credit.
    Guide,
    /// A finger lays its barre down, or lifts it, where it stands.
    Hinge,
    /// A barre or a wide stretch has to be taken; more in less time.
    Haste,
    /// Another finger takes over a note.
    Replacing,
    /// Another finger goes on along a string.
    Following,
    /// A note sounds again: at the same place a credit.
    Repeating,
    /// How the fingers of the highest string follow on one another.
    Leading,
    /// An open string rings while the hand travels: a credit.
    OpenRinging,
}

impl MoveTerm {
    /// Every term, in the order in which they are shown.
    pub const ALL: [Self; 12] = [
        Self::Shift,
        Self::Landing,
        Self::Hopping,
        Self::Pivot,
        Self::Guide,
        Self::Hinge,
        Self::Haste,
        Self::Replacing,
        Self::Following,
        Self::Repeating,
        Self::Leading,
        Self::OpenRinging,
    ];

    /// The term in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Shift => "shift",
            Self::Landing => "fingers landing",
            Self::Hopping => "finger hopping",
            Self::Pivot => "pivot finger",
            Self::Guide => "guide finger",
            Self::Hinge => "hinge barre",
            Self::Haste => "barre or stretch in a hurry",
            Self::Replacing => "fingers changing on a note",
            Self::Following => "fingers following on a string",
            Self::Repeating => "repeated note",
            Self::Leading => "fingers of the top voice",
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

/// How a hand travels along the neck.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// Around a finger that keeps its place.
    Pivoting,
    /// With fingers down, of which none keeps its place.
    Gripping,
    /// With no finger down.
    Free,
}

impl Way {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::Pivoting, Self::Gripping, Self::Free];

    /// The table of what it costs by the distance.
    pub const fn table(self) -> Table {
        match self {
            Self::Pivoting => Table::ShiftsPivot,
            Self::Gripping => Table::Shifts,
            Self::Free => Table::ShiftsFree,
        }
    }
}

/// Hears of every change between two hands. Effort of a move is nothing but the sum of what its changes cost.
pub trait Changes {
    /// An entry of a table applies so many times.
    fn changed(&mut self, table: Table, entry: usize, times: i32);
    /// The hand travels from one fret to another, both known and different.
    fn shifted(&mut self, here: u8, there: u8, way: Way);
}

/// Names every change from one hand to the next.
///
/// This is the one statement of what a move is: its effort, its terms and the learning of its weights all come from
/// here. The first position of a tune costs nothing to take: there is all the time one likes.
#[inline]
pub fn each_change(from: &HandAt, next: &HandAt, changes: &mut impl Changes) {
    let (mut barre_lands, mut pivots) = (false, false);
    for digit in 0..5 {
        match digit_moves(from, next, digit, changes) {
            Comes::Down => barre_lands |= next.strings[digit].len() > 1,
            Comes::Stays => pivots = true,
            Comes::Otherwise => {}
        }
    }
    if barre_lands {
        let index_bars = next.strings[Finger::Index as usize].len() > 1;
        changes.changed(Table::BarreLands, usize::from(!index_bars), 1);
    }
    if next.strain > from.strain {
        changes.changed(Table::Opens, 0, i32::from(next.strain - from.strain));
    }
    strings_go_on(from, next, changes);
    if let Some(lead) = lead(from, next) {
        changes.changed(Table::Leads, lead, 1);
    }
    let (here, there) = (from.standing, next.standing);
    if here != 0 && there != 0 && here != there {
        let way = match (from.holds, pivots) {
            (_, true) => Way::Pivoting,
            (true, false) => Way::Gripping,
            (false, false) => Way::Free,
        };
        changes.shifted(here, there, way);
        if from.rings && next.rings {
            changes.changed(Table::Rings, 0, 1);
        }
    }
}

/// How many ways there are from one finger of the highest string to another: seven along the neck, three across.
pub(super) const LEADS: usize = 7 * 3;

/// From which finger of the highest string to which one, and where to.
#[inline]
fn lead(from: &HandAt, next: &HandAt) -> Option<usize> {
    let ((old, before), (new, after)) = (from.lead()?, next.lead()?);
    let along = (after - before).clamp(-3, 3) + 3;
    let across = next.top.cmp(&from.top) as i32 + 1;
    Some((old * 4 + new) * LEADS + (along * 3 + across) as usize)
}

/// How a digit comes to where it is.
enum Comes {
    /// It keeps its place.
    Stays,
    /// It comes down on a place of its own.
    Down,
    /// It is lifted, or goes on where it was with more strings.
    Otherwise,
}

/// What one digit does.
#[inline]
fn digit_moves(from: &HandAt, next: &HandAt, digit: usize, changes: &mut impl Changes) -> Comes {
    let (old, new) = (from.frets[digit], next.frets[digit]);
    if new == 0 {
        if old != 0 {
            changes.changed(Table::Leaves, digit, 1);
        }
        return Comes::Otherwise;
    }
    if old == 0 {
        changes.changed(Table::Lands, digit, 1);
        return Comes::Down;
    }
    let (old_strings, strings) = (from.strings[digit], next.strings[digit]);
    let overlap = !strings.intersection(old_strings).is_empty();
    match (old == new, overlap) {
        // A barre may be lifted in part.
        (true, true) if strings.without(old_strings).is_empty() => {
            changes.changed(Table::Stays, digit, 1);
            Comes::Stays
        }
        (true, true) => {
            changes.changed(Table::Hinges, usize::from(digit != Finger::Index as usize), 1);
            Comes::Otherwise
        }
        (false, true) => {
            changes.changed(Table::Slides, digit * 3 + usize::from(old.abs_diff(new)).min(3) - 1, 1);
            Comes::Down
        }
        (same_fret, false) => {
            let table = if same_fret { Table::Hops } else { Table::Jumps };
            let far = !strings.touches(old_strings);
            changes.changed(table, digit * 2 + usize::from(far), 1);
            Comes::Down
        }
    }
}

/// What happens on the strings that sound before and after, and to pitches that sound again.
#[inline]
fn strings_go_on(from: &HandAt, next: &HandAt, changes: &mut impl Changes) {
    let mut same = 0;
    for string in from.sounding.intersection(next.sounding).each() {
        let (Some(before), Some(after)) = (from.grip.hold(string), next.grip.hold(string)) else { continue };
        if before.fret() == after.fret() {
            same += 1;
        }
        if let (Some(old), Some(new)) = (before.finger(), after.finger())
            && old != new
        {
            if before.fret() == after.fret() {
                changes.changed(Table::Replaces, 0, 1);
            } else {
                let frets = i32::from(after.fret().number()) - i32::from(before.fret().number());
                let off = frets - (new as i32 - old as i32);
                changes.changed(Table::Follows, (off.clamp(-2, 2) + 2) as usize, 1);
            }
        }
    }
    if same > 0 {
        changes.changed(Table::Repeats, 0, same);
    }
    let again = (from.pitches & next.pitches).count_ones() as i32;
    if again > same {
        changes.changed(Table::Repeats, 1, again - same);
    }
}

/// The effort of changing from one hand to the next within so many milliseconds.
///
/// Who asks more than once at one pace is faster with a [`Pace`].
pub fn move_effort(reach: &Reach, from: &HandAt, next: &HandAt, milliseconds: i64) -> MoveEffort {
    Pace::new(reach, milliseconds).effort(from, next)
}
