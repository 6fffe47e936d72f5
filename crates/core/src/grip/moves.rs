//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;
use super::grip::Grip;
use super::reach::Reach;
use super::strain;
use crate::hand::Finger;
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

/// Where the left hand is when it leaves: the grip it holds and, where no finger is down, where it stood last.
#[derive(Clone, Copy, Debug)]
pub struct HandAt<'a> {
    /// Everything that sounds.
    pub grip: &'a Grip,
    /// The fret of the index finger; none before the first finger is put down.
    pub position: Option<Fret>,
}

/// The effort of changing to `next` within so many milliseconds.
///
/// The first position of a tune costs nothing to take: there is all the time one likes.
pub fn move_effort(reach: &Reach, from: HandAt<'_>, next: &Grip, milliseconds: i64) -> MoveEffort {
    let time = milliseconds.clamp(MILLISECONDS.0, MILLISECONDS.1);
    let mut effort = MoveEffort::default();
    let mut fingers: [Option<(Fret, usize)>; 5] = [None; 5];
    for (place, finger) in from.grip.stopped() {
        fingers[finger as usize] = Some((place.fret, place.string.index()));
    }
    let mut seen = [false; 5];
    for (place, finger) in next.stopped() {
        if std::mem::replace(&mut seen[finger as usize], true) {
            continue;
        }
        let string = place.string.index();
        match fingers[finger as usize] {
            Some((fret, _)) if fret == place.fret && stays(from.grip, next, finger) => {
                effort.add(MoveTerm::Pivot, PIVOT - strain::placing(finger));
            }
            Some((fret, old)) => {
                effort.add(MoveTerm::Landing, (LANDING * 500 / time) as i32);
                if old == string && fret != place.fret {
                    effort.add(MoveTerm::Guide, GUIDE);
                } else if old != string {
                    effort.add(MoveTerm::Hopping, (HOPPING * 500 / time) as i32);
                }
            }
            None => effort.add(MoveTerm::Landing, (LANDING * 500 / time) as i32),
        }
    }
    if let (Some(here), Some(there)) = (from.position, reach.position(next))
        && here != there
    {
        let distance = i64::from(reach.apart(here, there).count());
        effort.add(MoveTerm::Shift, (SHIFT * distance * 1000 / (i64::from(SEMITONE.count()) * time)) as i32);
        let rings = |grip: &Grip| grip.holds().any(|(_, hold)| hold.fret.is_open());
        if rings(from.grip) && rings(next) {
            effort.add(MoveTerm::OpenRinging, OPEN_RINGING);
        }
    }
    effort
}

/// Whether a finger holds the same strings in both grips, or all of fewer: a barre may be lifted in part.
fn stays(from: &Grip, next: &Grip, finger: Finger) -> bool {
    let held = |grip: &Grip, string| grip.hold(string).is_some_and(|hold| hold.finger == Some(finger));
    next.stopped().filter(|(_, f)| *f == finger).all(|(place, _)| held(from, place.string))
}
