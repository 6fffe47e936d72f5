//! A left hand on the neck, as far as moves look at it.

use super::grip::{Grip, Hold, StringSet};
use super::reach::Reach;
use crate::hand::Finger;
use crate::neck::{Fret, StringIndex};

/// A left hand on the neck, as far as moves look at it. Small, since searches compare millions.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct HandAt {
    /// The fret of every digit; 0 where it is in the air.
    frets: [u8; 5],
    /// The fret of the index finger; 0 before the first finger is put down.
    position: u8,
    /// Whether an open string sounds.
    rings: bool,
    /// The strings of every digit.
    strings: [StringSet; 5],
}

impl HandAt {
    /// The hand that holds nothing and has not stood anywhere.
    pub const EMPTY: Self = Self { frets: [0; 5], position: 0, rings: false, strings: [StringSet::EMPTY; 5] };

    /// The hand that holds a grip.
    pub fn holding(reach: &Reach, grip: &Grip) -> Self {
        let hand = grip.holds().fold(Self::EMPTY, |hand, (string, hold)| hand.adding(string, hold));
        debug_assert_eq!(hand.position(), reach.position(grip), "one position of the hand, said twice");
        hand
    }

    /// The hand that holds one string more; it must not have come from elsewhere.
    #[must_use]
    pub const fn adding(mut self, string: StringIndex, hold: Hold) -> Self {
        let fret = hold.fret.number();
        let Some(finger) = hold.finger else {
            self.rings = true;
            return self;
        };
        self.frets[finger as usize] = fret;
        self.strings[finger as usize].insert(string);
        if finger as u8 != Finger::Thumb as u8 {
            // Where the index finger is when every finger has a fret of its own.
            let index = fret.saturating_sub(finger.number() - 1);
            let index = if index == 0 { 1 } else { index };
            if self.position == 0 || index < self.position {
                self.position = index;
            }
        }
        self
    }

    /// The fret of the index finger; none before the first finger is put down.
    pub const fn position(&self) -> Option<Fret> {
        if self.position == 0 { None } else { Some(Fret::new(self.position)) }
    }

    /// The same hand; where no finger is down, it stands where it stood last.
    pub fn coming_from(self, position: Option<Fret>) -> Self {
        Self { position: self.position().or(position).map_or(0, Fret::number), ..self }
    }

    /// The digits that are down.
    pub fn digits(&self) -> impl Iterator<Item = Finger> + '_ {
        let thumb_and_four = [Finger::Thumb].into_iter().chain(Finger::FOUR);
        thumb_and_four.filter(|finger| self.frets[*finger as usize] != 0)
    }

    /// The fret of a digit as a number; 0 where it is in the air.
    pub(super) const fn fret(&self, digit: usize) -> u8 {
        self.frets[digit]
    }

    /// The strings of a digit.
    pub(super) const fn strings(&self, digit: usize) -> StringSet {
        self.strings[digit]
    }

    /// The position as a number; 0 before the first finger is put down.
    pub(super) const fn standing(&self) -> u8 {
        self.position
    }

    /// Whether an open string sounds.
    pub(super) const fn rings(&self) -> bool {
        self.rings
    }
}
