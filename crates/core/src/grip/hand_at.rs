//! A left hand on the neck, as far as moves look at it.

use super::grip::{Grip, StringSet};
use super::reach::Reach;
use crate::hand::Finger;
use crate::neck::{Fret, StringIndex};

/// A left hand on the neck, as far as moves look at it. Small, since searches compare millions.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct HandAt {
    /// The strings of every digit.
    pub(super) strings: [StringSet; 5],
    /// The strings that sound.
    pub(super) sounding: StringSet,
    pub(super) grip: Grip,
    /// The fret of every digit; 0 where it is in the air.
    pub(super) frets: [u8; 5],
    /// The finger on the highest string that sounds; none where that string is open or under the thumb.
    pub(super) lead: Option<Lead>,
    /// The hand as a whole.
    pub(super) whole: Whole,
}

impl HandAt {
    /// The hand that holds nothing and has not stood anywhere.
    pub const EMPTY: Self = Self {
        strings: [StringSet::EMPTY; 5],
        sounding: StringSet::EMPTY,
        grip: Grip::SILENT,
        frets: [0; 5],
        lead: None,
        whole: Whole { standing: 0, strain: 0, holds: false, rings: false },
    };

    /// The hand that holds a grip.
    pub fn holding(reach: &Reach, grip: &Grip) -> Self {
        let mut hand = Self { grip: *grip, sounding: grip.strings(), ..Self::EMPTY };
        for string in hand.sounding.each() {
            match grip.stop(string) {
                Some((fret, finger)) => hand.add(string, fret, finger),
                None => hand.whole.rings = true,
            }
        }
        hand.whole.strain = hand.strained(reach);
        hand.lead = hand.leading();
        debug_assert_eq!(hand.position(), grip.position(), "one position of the hand, said twice");
        hand
    }

    /// Takes in a string under a finger.
    fn add(&mut self, string: StringIndex, fret: Fret, finger: Finger) {
        self.strings[finger as usize].insert(string);
        self.frets[finger as usize] = fret.number();
        if finger != Finger::Thumb {
            self.whole.holds = true;
            // Where the index finger is when every finger has a fret of its own.
            let index = fret.number().saturating_sub(finger.number() - 1).max(1);
            let standing = self.whole.standing;
            self.whole.standing = if standing == 0 { index } else { standing.min(index) };
        }
    }

    /// How far the widest pair of fingers goes beyond comfortable, once every digit is where it is.
    fn strained(&self, reach: &Reach) -> u8 {
        let mut strain = 0;
        for (number, (finger, fret)) in Finger::ALL.into_iter().zip(self.frets).enumerate() {
            for (other, there) in Finger::ALL[..number].iter().zip(self.frets) {
                if fret != 0 && there != 0 {
                    let beyond = reach.beyond((*other, Fret::new(there)), (finger, Fret::new(fret)));
                    strain = strain.max(beyond.comfortable);
                }
            }
        }
        strain
    }

    fn leading(&self) -> Option<Lead> {
        let (string, _) = self.sounding.outer()?;
        let (fret, finger) = self.grip.stop(string)?;
        let finger = (finger as u8).checked_sub(1)?;
        Some(Lead { finger, fret: fret.number(), string: string.index() as u8 })
    }

    /// The fret of the index finger; none before the first finger is put down.
    pub const fn position(&self) -> Option<Fret> {
        if self.whole.standing == 0 { None } else { Some(Fret::new(self.whole.standing)) }
    }

    /// The grip that it holds.
    pub const fn grip(&self) -> &Grip {
        &self.grip
    }

    /// The same hand; where no finger is down, it stands where it stood last.
    pub fn coming_from(self, position: Option<Fret>) -> Self {
        let standing = self.position().or(position).map_or(0, Fret::number);
        Self { whole: Whole { standing, ..self.whole }, ..self }
    }

    /// Where a digit is.
    #[inline]
    pub(super) const fn digit(&self, digit: usize) -> Digit {
        Digit { fret: self.frets[digit], strings: self.strings[digit] }
    }

    /// Whether the first finger lies over several strings.
    pub(super) const fn index_bars(&self) -> bool {
        self.strings[Finger::Index as usize].len() > 1
    }
}

/// What concerns a hand as a whole.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Whole {
    /// The fret of the index finger; 0 before the first finger is put down.
    pub(super) standing: u8,
    /// How far the widest pair of fingers goes beyond comfortable, in half semitones of the table of spans.
    pub(super) strain: u8,
    /// Whether any finger but the thumb is down.
    pub(super) holds: bool,
    /// Whether an open string sounds.
    pub(super) rings: bool,
}

/// Where a digit is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Digit {
    /// Its fret; 0 where it is in the air.
    pub(super) fret: u8,
    /// The strings it holds.
    pub(super) strings: StringSet,
}

/// The finger on the highest string that sounds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Lead {
    /// From 0 for the first.
    pub(super) finger: u8,
    pub(super) fret: u8,
    /// The index of the string.
    pub(super) string: u8,
}
