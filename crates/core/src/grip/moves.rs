//! What it costs to change from one grip to the next, term by term.

use super::effort::Effort;

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
    pub const ALL: [Self; 6] = [
        Self::Shift,
        Self::Landing,
        Self::Hopping,
        Self::Pivot,
        Self::Guide,
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
        MoveTerm::ALL
            .into_iter()
            .map(|t| (t, self.term(t)))
            .filter(|(_, e)| *e != Effort::NONE)
    }

    /// All terms together.
    pub fn total(&self) -> Effort {
        Effort::new(self.points.iter().sum())
    }
}
