//! What a grip costs, term by term.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

/// How hard something is: a whole number, smaller is easier. Credits can take it below zero.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Effort(i32);

impl Effort {
    /// No effort at all.
    pub const NONE: Self = Self(0);

    /// So much effort.
    pub const fn new(points: i32) -> Self {
        Self(points)
    }

    /// The number of points.
    pub const fn points(self) -> i32 {
        self.0
    }
}

impl Add for Effort {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Effort {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Effort {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Sum for Effort {
    fn sum<I: Iterator<Item = Self>>(efforts: I) -> Self {
        efforts.fold(Self::NONE, Add::add)
    }
}

impl fmt::Debug for Effort {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Effort({self})")
    }
}

impl fmt::Display for Effort {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A reason why a grip costs effort.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum GripTerm {
    /// Fingers farther apart than relaxed, more beyond comfortable.
    Stretch,
    /// How the fingers lie to one another: cramped, spread, across the neck.
    Lie,
    /// One finger over several strings.
    Barre,
    /// The fingers in use, weak ones more.
    Fingers,
    /// Neighbouring fingers the other way round at one fret.
    Reversed,
    /// The thumb over the edge.
    Thumb,
    /// How far up the neck the hand stands, most where the body is in the way.
    Position,
    /// Silent strings between sounding ones.
    Skipped,
    /// Lower strings that sound higher than their neighbours.
    Crossed,
    /// Thick and thin strings, low and high on the neck.
    Strings,
    /// Open strings under a hand farther up.
    OpenStrings,
    /// Fingers that do not fit the chord which the notes around spell out.
    Shape,
}

impl GripTerm {
    /// Every term, in the order in which they are shown.
    pub const ALL: [Self; 12] = [
        Self::Stretch,
        Self::Lie,
        Self::Barre,
        Self::Fingers,
        Self::Reversed,
        Self::Thumb,
        Self::Position,
        Self::Skipped,
        Self::Crossed,
        Self::Strings,
        Self::OpenStrings,
        Self::Shape,
    ];

    /// The term in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stretch => "stretch",
            Self::Lie => "how fingers lie",
            Self::Barre => "barre",
            Self::Fingers => "fingers",
            Self::Reversed => "reversed fingers",
            Self::Thumb => "thumb over",
            Self::Position => "position",
            Self::Skipped => "skipped strings",
            Self::Crossed => "crossed voices",
            Self::Strings => "strings",
            Self::OpenStrings => "open strings",
            Self::Shape => "shape of the chord",
        }
    }
}

/// The effort of a grip, term by term.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct GripEffort {
    points: [i32; GripTerm::ALL.len()],
}

impl GripEffort {
    /// Adds points to a term.
    pub const fn add(&mut self, term: GripTerm, points: i32) {
        self.points[term as usize] += points;
    }

    /// What one term costs.
    pub const fn term(&self, term: GripTerm) -> Effort {
        Effort(self.points[term as usize])
    }

    /// The terms that cost or gain something.
    pub fn terms(&self) -> impl Iterator<Item = (GripTerm, Effort)> + '_ {
        GripTerm::ALL.into_iter().map(|t| (t, self.term(t))).filter(|(_, e)| *e != Effort::NONE)
    }

    /// All terms together.
    pub fn total(&self) -> Effort {
        Effort(self.points.iter().sum())
    }
}
