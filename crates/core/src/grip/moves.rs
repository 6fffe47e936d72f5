//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;
use super::grip::{Digits, Grip};
use super::reach::Reach;
use super::strain;
use crate::hand::span::SEMITONE;
use crate::neck::Fret;

/// A shift of one [`SEMITONE`] in one second. No published constant for shifts of a guitarist's hand by time exists:
/// this one is the project's own.
const SHIFT: i64 = 1;
/// A finger that comes down, in half a second.
const LANDING: i64 = 1;
/// A finger that hops to another string in half a second.
const HOPPING: i64 = 2;
/// A finger that keeps its place, besides what putting it down would cost.
const PIVOT: i32 = -1;
/// A finger that slides along its string.
const GUIDE: i32 = -2;
/// An open string that rings over a shift.
const OPEN_RINGING: i32 = -2;
/// Shorter times are as hard as this many milliseconds, longer ones as easy as that many.
const MILLISECONDS: (i64, i64) = (120, 1500);

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

/// A left hand on the neck, as far as moves look at it.
#[derive(Clone, Copy, Debug)]
pub struct HandAt {
    digits: Digits,
    position: Option<Fret>,
    /// Whether an open string sounds.
    rings: bool,
}

impl HandAt {
    /// The hand that holds a grip.
    pub fn holding(reach: &Reach, grip: &Grip) -> Self {
        let rings = grip.holds().any(|(_, hold)| hold.fret.is_open());
        Self { digits: grip.digits(), position: reach.position(grip), rings }
    }

    /// The fret of the index finger; none before the first finger is put down.
    pub const fn position(&self) -> Option<Fret> {
        self.position
    }

    /// The same hand; where no finger is down, it stands where it stood last.
    pub fn coming_from(self, position: Option<Fret>) -> Self {
        Self { position: self.position.or(position), ..self }
    }

    /// The digits in use.
    pub const fn digits(&self) -> &Digits {
        &self.digits
    }
}

/// The effort of changing from one hand to the next within so many milliseconds.
///
/// The first position of a tune costs nothing to take: there is all the time one likes.
pub fn move_effort(reach: &Reach, from: &HandAt, next: &HandAt, milliseconds: i64) -> MoveEffort {
    let time = milliseconds.clamp(MILLISECONDS.0, MILLISECONDS.1);
    let mut effort = MoveEffort::default();
    for (finger, fret, strings) in next.digits.iter() {
        let before = from.digits.of(finger);
        if let Some((old_fret, old_strings)) = before {
            // A barre may be lifted in part; laid over more strings it lands anew.
            if old_fret == fret && strings.without(old_strings).is_empty() {
                effort.add(MoveTerm::Pivot, PIVOT - strain::placing(finger));
                continue;
            }
            let same_string = !strings.intersection(old_strings).is_empty();
            if same_string && old_fret != fret {
                effort.add(MoveTerm::Guide, GUIDE);
            } else if !same_string {
                effort.add(MoveTerm::Hopping, (HOPPING * 500 / time) as i32);
            }
        }
        effort.add(MoveTerm::Landing, (LANDING * 500 / time) as i32);
    }
    if let (Some(here), Some(there)) = (from.position, next.position)
        && here != there
    {
        let distance = i64::from(reach.apart(here, there).count());
        effort.add(MoveTerm::Shift, (SHIFT * distance * 1000 / (i64::from(SEMITONE.count()) * time)) as i32);
        if from.rings && next.rings {
            effort.add(MoveTerm::OpenRinging, OPEN_RINGING);
        }
    }
    effort
}
