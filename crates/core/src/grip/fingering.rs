//! Every way for a left hand to hold a voicing.
//!
//! The hard rules of the hand, in millimetres: one fret a finger; a barre over a run of strings with nothing lower
//! and no other finger under it; lower-numbered fingers never above higher-numbered ones; neighbours at one fret
//! reversed at the most; no two fingers farther apart than they reach. [`crate::check`] states the same rules anew.

use super::grip::{Grip, Hold};
use super::reach::Reach;
use super::voicing::Voicing;
use crate::hand::Finger;
use crate::neck::{Fret, MAX_STRINGS, Place, StringIndex};

/// Fingers 2, 3 and 4 bar three neighbouring strings at the most: outer strings two apart.
const SMALL_BARRE: u8 = 2;

/// Calls `found` with every grip that adds the places of `voicing` to what `held` already holds.
///
/// Held strings keep their finger; a string of `voicing` that is held already is left as it is. Nothing is found
/// where no hand can do it. The order is the same every time.
pub fn fingerings(reach: &Reach, voicing: &Voicing, held: &Grip, mut found: impl FnMut(Grip)) {
    let mut search = Search { hand: Held::nothing(reach), stopped: [None; MAX_STRINGS], count: 0 };
    search.hand.grip = *held;
    for place in voicing.places().filter(|place| held.hold(place.string).is_none()) {
        if place.fret.is_open() {
            search.hand.grip.set(place.string, Some(Hold::OPEN));
        } else {
            search.stopped[search.count] = Some(place);
            search.count += 1;
        }
    }
    if search.hand.stand(held, voicing) {
        search.place(0, voicing, &mut found);
    }
}

/// Whether a hand can hold a grip as it is fingered.
pub fn can_hold(reach: &Reach, grip: &Grip) -> bool {
    let stands = |(string, Hold { fret, finger }): (StringIndex, Hold)| match finger {
        None => fret.is_open(),
        Some(Finger::Thumb) => !fret.is_open() && reach.thumb_may_hold(string),
        Some(_) => !fret.is_open(),
    };
    grip.holds().all(stands) && Held::new(reach, grip).is_some()
}

/// A grip that a hand holds, to ask quickly what it can take besides.
#[derive(Clone, Debug)]
pub struct Held<'a> {
    reach: &'a Reach,
    /// Every string that sounds, but for those that are still to be fingered.
    grip: Grip,
    digits: [Option<Standing>; 5],
}

/// Where a finger stands: its fret and its outer strings.
#[derive(Clone, Copy, Debug)]
struct Standing {
    fret: Fret,
    /// The string nearest to the treble.
    top: u8,
    /// The string nearest to the bass.
    bottom: u8,
}

impl<'a> Held<'a> {
    /// A hand that holds nothing.
    pub const fn nothing(reach: &'a Reach) -> Self {
        Self { reach, grip: Grip::SILENT, digits: [None; 5] }
    }

    /// The grip as it is fingered; none where no hand can hold it.
    pub fn new(reach: &'a Reach, grip: &Grip) -> Option<Self> {
        let mut held = Self { grip: *grip, ..Self::nothing(reach) };
        held.stand(grip, &Voicing::SILENT).then_some(held)
    }

    /// Whether the hand can hold one more string as well. A string that it holds already it cannot take again.
    pub fn takes(&self, string: StringIndex, hold: Hold) -> bool {
        if self.grip.hold(string).is_some() || self.is_barred(string, hold.fret) {
            return false;
        }
        let Some(finger) = hold.finger else { return true };
        let standing = self.standing(finger, Place { string, fret: hold.fret }, &Voicing::SILENT);
        standing.is_some_and(|standing| self.fits(finger, standing))
    }

    /// Holds one more string, one that it [takes](Self::takes).
    pub fn take(&mut self, string: StringIndex, hold: Hold) {
        if let Some(finger) = hold.finger {
            let place = Place { string, fret: hold.fret };
            self.digits[finger as usize] = self.standing(finger, place, &Voicing::SILENT);
        }
        self.grip.set(string, Some(hold));
    }

    /// Whether a barre lies over a string at a higher fret.
    fn is_barred(&self, string: StringIndex, fret: Fret) -> bool {
        let index = string.index() as u8;
        let mut standing = self.digits.iter().flatten();
        standing.any(|there| there.top <= index && index <= there.bottom && fret < there.fret)
    }

    /// Enters the held fingers; false where what is new lies under one of their barres.
    fn stand(&mut self, held: &Grip, voicing: &Voicing) -> bool {
        for (place, finger) in held.stopped() {
            match self.standing(finger, place, voicing) {
                Some(standing) => self.digits[finger as usize] = Some(standing),
                None => return false,
            }
        }
        DIGITS.into_iter().all(|f| self.digits[f as usize].is_none_or(|s| self.fits(f, s)))
    }

    /// Where a finger stands once it holds `place` too; none where it cannot.
    fn standing(&self, finger: Finger, place: Place, voicing: &Voicing) -> Option<Standing> {
        let string = place.string.index() as u8;
        let Some(old) = self.digits[finger as usize] else {
            return Some(Standing { fret: place.fret, top: string, bottom: string });
        };
        if old.fret != place.fret || finger == Finger::Thumb {
            return None;
        }
        let (top, bottom) = (old.top.min(string), old.bottom.max(string));
        if finger != Finger::Index && bottom - top > SMALL_BARRE {
            return None;
        }
        let mut covered = (top..=bottom).map(|index| StringIndex::new(usize::from(index)));
        let sounding = |s: StringIndex| self.grip.hold(s).map(|h| h.fret).or_else(|| voicing.fret(s));
        let lower = covered.any(|s| sounding(s).is_some_and(|fret| fret < place.fret));
        (!lower).then_some(Standing { fret: place.fret, top, bottom })
    }

    /// Whether a finger that stands there gets on with all the others.
    fn fits(&self, finger: Finger, standing: Standing) -> bool {
        DIGITS.into_iter().all(|other| {
            other == finger
                || self.digits[other as usize].is_none_or(|there| self.get_on(finger, standing, other, there))
        })
    }

    fn get_on(&self, a: Finger, at: Standing, b: Finger, there: Standing) -> bool {
        let ((low, low_at), (high, high_at)) =
            if a < b { ((a, at), (b, there)) } else { ((b, there), (a, at)) };
        let ordered = if at.fret == there.fret {
            // No finger stands on one that bars.
            let apart = at.top > there.bottom || there.top > at.bottom;
            let reversed = low_at.top < high_at.bottom;
            apart && (low == Finger::Thumb || !reversed || high.number() - low.number() == 1)
        } else {
            low == Finger::Thumb || low_at.fret < high_at.fret
        };
        ordered && self.reach.apart(at.fret, there.fret) <= self.reach.span(a, b).practical
    }
}

/// Every digit, in the order in which they are tried.
const DIGITS: [Finger; 5] = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];

struct Search<'a> {
    hand: Held<'a>,
    /// The strings to be fingered, highest first.
    stopped: [Option<Place>; MAX_STRINGS],
    count: usize,
}

impl Search<'_> {
    /// Gives fingers to the strings from `next` on.
    fn place(&mut self, next: usize, voicing: &Voicing, found: &mut impl FnMut(Grip)) {
        let Some(place) = self.stopped[..self.count].get(next).copied().flatten() else {
            found(self.hand.grip);
            return;
        };
        for finger in DIGITS {
            if finger == Finger::Thumb && !self.hand.reach.thumb_may_hold(place.string) {
                continue;
            }
            let before = self.hand.digits[finger as usize];
            let Some(standing) = self.hand.standing(finger, place, voicing) else { continue };
            if self.hand.fits(finger, standing) {
                self.hand.digits[finger as usize] = Some(standing);
                self.hand.grip.set(place.string, Some(Hold::stopped(place.fret, finger)));
                self.place(next + 1, voicing, found);
                self.hand.grip.set(place.string, None);
                self.hand.digits[finger as usize] = before;
            }
        }
    }
}
