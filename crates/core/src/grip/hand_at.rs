//! A left hand on the neck, as far as moves look at it.

use super::grip::{Grip, Hold, StringSet};
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
    /// The fret of the index finger; 0 before the first finger is put down.
    pub(super) standing: u8,
    /// How far the widest pair of fingers goes beyond comfortable, in half semitones of the table of spans.
    pub(super) strain: u8,
    /// The index of the highest string that sounds; 0 where none does.
    pub(super) top: u8,
    /// Whether any finger but the thumb is down.
    pub(super) holds: bool,
    /// Whether an open string sounds.
    pub(super) rings: bool,
}

impl HandAt {
    /// The hand that holds nothing and has not stood anywhere.
    pub const EMPTY: Self = Self {
        strings: [StringSet::EMPTY; 5],
        sounding: StringSet::EMPTY,
        grip: Grip::SILENT,
        frets: [0; 5],
        standing: 0,
        strain: 0,
        top: 0,
        holds: false,
        rings: false,
    };

    /// The hand that holds a grip.
    pub fn holding(reach: &Reach, grip: &Grip) -> Self {
        let mut hand = Self { grip: *grip, ..Self::EMPTY };
        for (string, hold) in grip.holds() {
            hand.add(reach, string, hold);
        }
        debug_assert_eq!(hand.position(), grip.position(), "one position of the hand, said twice");
        hand
    }

    /// Takes in a string of the grip.
    fn add(&mut self, reach: &Reach, string: StringIndex, hold: Hold) {
        let (index, fret) = (string.index() as u8, hold.fret().number());
        self.top = if self.sounding.is_empty() { index } else { self.top.min(index) };
        self.sounding.insert(string);
        let Some(finger) = hold.finger() else {
            self.rings = true;
            return;
        };
        let digit = finger as usize;
        self.strings[digit].insert(string);
        if self.frets[digit] != fret {
            self.frets[digit] = fret;
            for (other, there) in Finger::ALL.into_iter().zip(self.frets) {
                if there != 0 && other != finger {
                    let beyond = reach.beyond((other, Fret::new(there)), (finger, hold.fret()));
                    self.strain = self.strain.max(beyond.comfortable);
                }
            }
        }
        if finger != Finger::Thumb {
            self.holds = true;
            // Where the index finger is when every finger has a fret of its own.
            let index = fret.saturating_sub(finger.number() - 1).max(1);
            self.standing = if self.standing == 0 { index } else { self.standing.min(index) };
        }
    }

    /// The fret of the index finger; none before the first finger is put down.
    pub const fn position(&self) -> Option<Fret> {
        if self.standing == 0 { None } else { Some(Fret::new(self.standing)) }
    }

    /// The same hand; where no finger is down, it stands where it stood last.
    pub fn coming_from(self, position: Option<Fret>) -> Self {
        Self { standing: self.position().or(position).map_or(0, Fret::number), ..self }
    }

    /// The finger on the highest string that sounds; none where that string is open or under the thumb.
    #[inline]
    pub(super) fn lead(&self) -> Option<Lead> {
        let hold = self.grip.hold(StringIndex::new(usize::from(self.top)))?;
        let finger = (hold.finger()? as u8).checked_sub(1)?;
        Some(Lead { finger, fret: hold.fret().number(), string: self.top })
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

/// Where a digit is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Digit {
    /// Its fret; 0 where it is in the air.
    pub(super) fret: u8,
    /// The strings it holds.
    pub(super) strings: StringSet,
}

/// The finger on the highest string that sounds.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Lead {
    /// From 0 for the first.
    pub(super) finger: u8,
    pub(super) fret: u8,
    /// The index of the string.
    pub(super) string: u8,
}
