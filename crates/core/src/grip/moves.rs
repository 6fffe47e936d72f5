//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;
pub use super::hand_at::HandAt;
use super::hand_at::{Digit, Lead, Whole};
use super::hold::Hold;
pub use super::pace::{Pace, haste, travelled};
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
    /// A note sounds again at the same place.
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
    let mut found = Found::default();
    for digit in 0..5 {
        found.add(digit_goes_on(digit, from.digit(digit), next.digit(digit), changes));
    }
    for string in from.sounding.intersection(next.sounding).each() {
        if let (Some(before), Some(after)) = (from.grip.hold(string), next.grip.hold(string)) {
            string_goes_on(before, after, changes);
        }
    }
    if let (Some(before), Some(after)) = (from.lead, next.lead) {
        changes.changed(Table::Leads, leads(before, after), 1);
    }
    hand_goes_on(from.whole, next, found, changes);
}

/// What the parts of a move, each by itself, have to say to the whole of it.
#[derive(Clone, Copy, Default)]
pub(super) struct Found {
    /// How many barres are laid down.
    pub(super) barres: u8,
    /// How many digits keep their place.
    pub(super) pivots: u8,
}

impl Found {
    /// Takes in what another part has found.
    #[inline]
    const fn add(&mut self, other: Self) {
        self.barres += other.barres;
        self.pivots += other.pivots;
    }
}

/// What belongs to no digit and no string alone: barres, strain, and the way along the neck.
#[inline]
pub(super) fn hand_goes_on(from: Whole, next: &HandAt, found: Found, changes: &mut impl Changes) {
    if found.barres > 0 {
        changes.changed(Table::BarreLands, usize::from(!next.index_bars()), 1);
    }
    let to = next.whole;
    if to.strain > from.strain {
        changes.changed(Table::Opens, 0, i32::from(to.strain - from.strain));
    }
    let (here, there) = (from.standing, to.standing);
    if here != 0 && there != 0 && here != there {
        let way = match (from.holds, found.pivots > 0) {
            (_, true) => Way::Pivoting,
            (true, false) => Way::Gripping,
            (false, false) => Way::Free,
        };
        changes.shifted(here, there, way);
        if from.rings && to.rings {
            changes.changed(Table::Rings, 0, 1);
        }
    }
}

/// How many ways there are from one finger of the highest string to another: seven along the neck, three across.
pub(super) const LEADS: usize = 7 * 3;

/// From which finger of the highest string to which one, and where to.
#[inline]
pub(super) fn leads(before: Lead, after: Lead) -> usize {
    let along = (i32::from(after.fret) - i32::from(before.fret)).clamp(-3, 3) + 3;
    let across = after.string.cmp(&before.string) as i32 + 1;
    usize::from(before.finger * 4 + after.finger) * LEADS + (along * 3 + across) as usize
}

/// What one digit does.
#[inline]
pub(super) fn digit_goes_on(digit: usize, old: Digit, new: Digit, changes: &mut impl Changes) -> Found {
    let comes_down = Found { barres: u8::from(new.strings.len() > 1), ..Found::default() };
    if new.fret == 0 {
        if old.fret != 0 {
            changes.changed(Table::Leaves, digit, 1);
        }
        return Found::default();
    }
    if old.fret == 0 {
        changes.changed(Table::Lands, digit, 1);
        return comes_down;
    }
    let overlap = !new.strings.intersection(old.strings).is_empty();
    match (old.fret == new.fret, overlap) {
        // A barre may be lifted in part.
        (true, true) if new.strings.without(old.strings).is_empty() => {
            changes.changed(Table::Stays, digit, 1);
            Found { pivots: 1, ..Found::default() }
        }
        (true, true) => {
            changes.changed(Table::Hinges, usize::from(digit != Finger::Index as usize), 1);
            Found::default()
        }
        (false, true) => {
            let frets = usize::from(old.fret.abs_diff(new.fret));
            changes.changed(Table::Slides, digit * 3 + frets.min(3) - 1, 1);
            comes_down
        }
        (same_fret, false) => {
            let table = if same_fret { Table::Hops } else { Table::Jumps };
            let far = !new.strings.touches(old.strings);
            changes.changed(table, digit * 2 + usize::from(far), 1);
            comes_down
        }
    }
}

/// What happens on a string that sounds before and after.
#[inline]
pub(super) fn string_goes_on(before: Hold, after: Hold, changes: &mut impl Changes) {
    if before == after {
        changes.changed(Table::Repeats, 0, 1);
        return;
    }
    let same = before.fret() == after.fret();
    if same {
        changes.changed(Table::Repeats, 0, 1);
    }
    if let (Some(old), Some(new)) = (before.finger(), after.finger())
        && old != new
    {
        if same {
            changes.changed(Table::Replaces, 0, 1);
        } else {
            let frets = i32::from(after.fret().number()) - i32::from(before.fret().number());
            let off = frets - (new as i32 - old as i32);
            changes.changed(Table::Follows, (off.clamp(-2, 2) + 2) as usize, 1);
        }
    }
}

/// The effort of changing from one hand to the next within so many milliseconds.
///
/// Who asks more than once at one pace is faster with a [`Pace`].
pub fn move_effort(reach: &Reach, from: &HandAt, next: &HandAt, milliseconds: i64) -> MoveEffort {
    Pace::new(reach, milliseconds).effort(from, next)
}
