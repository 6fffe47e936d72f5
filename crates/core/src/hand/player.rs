//! Whose hands they are.

use super::finger::Finger;
use super::span::{self, Span};
use crate::neck::geometry::Micrometres;

/// How large a left hand is.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum HandSize {
    /// 0.89 of a medium hand (scaling of this project, after the hand-span threshold in Boyle 2015).
    Small,
    /// The table of [`span::medium`] as it stands.
    #[default]
    Medium,
    /// 1.11 of a medium hand.
    Large,
    /// A hand whose farthest reach from finger 1 to finger 4 the player has measured.
    Measured(Micrometres),
}

/// A player's two hands.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Hand {
    /// How far the left hand reaches.
    pub size: HandSize,
    /// Whether the left thumb may come over the edge to the lowest string.
    pub thumb: bool,
    /// Whether the right little finger (c) may pluck.
    pub little_plucks: bool,
}

impl Hand {
    /// The shortest span from finger 1 to finger 4 that can be entered.
    pub const MEASURED_MIN: Micrometres = Micrometres::new(80_000);
    /// The longest one.
    pub const MEASURED_MAX: Micrometres = Micrometres::new(200_000);

    /// How far two fingers reach along the neck.
    pub fn span(&self, a: Finger, b: Finger) -> Span {
        let medium = span::medium(a, b);
        let scaled = |length: Micrometres| match self.size {
            HandSize::Small => length.percent(89),
            HandSize::Medium => length,
            HandSize::Large => length.percent(111),
            HandSize::Measured(reach) => {
                let reach = i64::from(reach.clamp(Self::MEASURED_MIN, Self::MEASURED_MAX).count());
                let widest = i64::from(span::medium(Finger::Index, Finger::Little).practical.count());
                Micrometres::new((i64::from(length.count()) * reach / widest) as i32)
            }
        };
        Span {
            relaxed: scaled(medium.relaxed),
            comfortable: scaled(medium.comfortable),
            practical: scaled(medium.practical),
        }
    }

    /// How many strings the right hand plucks at once without a brush: four, or five with the little finger.
    pub const fn plucks_at_once(&self) -> usize {
        if self.little_plucks { 5 } else { 4 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hands_differ_by_their_factor() {
        let reach =
            |size| Hand { size, ..Hand::default() }.span(Finger::Index, Finger::Little).practical.count();
        assert_eq!(reach(HandSize::Medium), 137_500);
        assert_eq!(reach(HandSize::Small), 122_375);
        assert_eq!(reach(HandSize::Measured(Micrometres::new(120_000))), 120_000);
        assert_eq!(reach(HandSize::Measured(Micrometres::new(1))), 80_000);
    }
}
