//! Every way for a left hand to hold a voicing.
//!
//! The hard rules of the hand, in millimetres: one fret a finger; a barre over a run of strings with nothing lower
//! and no other finger under it; lower-numbered fingers never above higher-numbered ones; neighbours at one fret
//! reversed at the most; no two fingers farther apart than they reach. [`crate::check`] states the same rules anew.

use super::grip::{Grip, StringSet};
use super::hold::Hold;
use super::reach::Reach;
use super::voicing::Voicing;
use crate::hand::{Finger, FingerSet};
use crate::neck::{Fret, MAX_STRINGS, StringIndex, Touch};

/// Fingers 2, 3 and 4 bar three neighbouring strings at the most: outer strings two apart.
const SMALL_BARRE: u8 = 2;

/// Calls `found` with every grip that adds the places of `voicing` to what `held` already holds.
///
/// Held strings keep their finger; a string of `voicing` that is held already is left as it is. Nothing is found
/// where no hand can do it. The order is the same every time.
pub fn fingerings(reach: &Reach, voicing: &Voicing, held: &Grip, found: impl FnMut(Grip)) {
    let unfingered = voicing.places().map(|place| (place.string, Hold::unfingered(place.fret)));
    fingerings_of(reach, &Grip::from_holds(unfingered), held, found);
}

/// The same for what is `wanted` as a grip whose fingers are not said, harmonics among it.
pub fn fingerings_of(reach: &Reach, wanted: &Grip, held: &Grip, mut found: impl FnMut(Grip)) {
    let mut hand = Held { grip: *held, ..Held::nothing(reach) };
    let mut stopped = Stopped { strings: [None; MAX_STRINGS], count: 0 };
    for (string, hold) in wanted.holds().filter(|(string, _)| held.hold(*string).is_none()) {
        if hold.fret().is_open() {
            hand.grip.set(string, Some(Hold::OPEN));
        } else {
            stopped.strings[stopped.count] = Some((string, hold));
            stopped.count += 1;
        }
    }
    if hand.stand(held, wanted) {
        let fingers = stopped.fingers(&hand);
        Search { hand, stopped, wanted }.place(0, fingers, &mut found);
    }
}

/// Whether a hand can hold a grip as it is fingered.
pub fn can_hold(reach: &Reach, grip: &Grip) -> bool {
    let stands = |(string, hold): (StringIndex, Hold)| match hold.finger() {
        None => hold.pressed().is_open(),
        Some(Finger::Thumb) => !hold.fret().is_open() && reach.thumb_may_hold(string),
        Some(_) => !hold.fret().is_open(),
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
    /// Whether it touches there, for natural harmonics, and presses nothing.
    touches: bool,
    /// The string nearest to the treble.
    top: u8,
    /// The string nearest to the bass.
    bottom: u8,
}

impl Standing {
    /// Whether it is a barre over a string that another finger holds nearer the nut.
    const fn bars_over(self, other: Self) -> bool {
        let overlap = self.top <= other.bottom && other.top <= self.bottom;
        overlap && self.top < self.bottom && other.fret.number() < self.fret.number()
    }

    /// Whether a finger that stands here gets on with another one at the same fret: neither stands on the other, and
    /// only neighbours are reversed. At another fret it does.
    fn gets_on(self, finger: Finger, other: Finger, there: Self) -> bool {
        if self.fret != there.fret {
            return true;
        }
        let ((low, low_at), (high, high_at)) = by_number((finger, self), (other, there));
        let apart = self.top > there.bottom || there.top > self.bottom;
        let reversed = low_at.top < high_at.bottom;
        apart && (low == Finger::Thumb || !reversed || high.number() - low.number() == 1)
    }
}

/// Two fingers, the lower-numbered one first.
fn by_number(one: (Finger, Standing), other: (Finger, Standing)) -> ((Finger, Standing), (Finger, Standing)) {
    if one.0 < other.0 { (one, other) } else { (other, one) }
}

impl<'a> Held<'a> {
    /// A hand that holds nothing.
    pub const fn nothing(reach: &'a Reach) -> Self {
        Self { reach, grip: Grip::SILENT, digits: [None; 5] }
    }

    /// The grip as it is fingered; none where no hand can hold it.
    pub fn new(reach: &'a Reach, grip: &Grip) -> Option<Self> {
        let mut held = Self { grip: *grip, ..Self::nothing(reach) };
        held.stand(grip, &Grip::SILENT).then_some(held)
    }

    /// Whether the hand can hold one more string as well. A string that it holds already it cannot take again.
    pub fn takes(&self, string: StringIndex, hold: Hold) -> bool {
        if self.grip.hold(string).is_some() || self.is_barred(string, hold) {
            return false;
        }
        let Some(finger) = hold.finger() else { return true };
        let standing = self.standing(finger, (string, hold), &Grip::SILENT);
        standing.is_some_and(|standing| self.fits(finger, standing))
    }

    /// Holds one more string, one that it [takes](Self::takes).
    pub fn take(&mut self, string: StringIndex, hold: Hold) {
        if let Some(finger) = hold.finger() {
            self.digits[finger as usize] = self.standing(finger, (string, hold), &Grip::SILENT);
        }
        self.grip.set(string, Some(hold));
    }

    /// Puts a finger down that sounds nothing yet, where that costs nothing; tells whether it is down.
    ///
    /// It is free, its strings are silent or stopped higher up by others, no barre lies over another finger, no
    /// neighbours are reversed for it, and no pair of fingers is strained.
    pub fn wait(&mut self, finger: Finger, fret: Fret, strings: StringSet) -> bool {
        let Some((top, bottom)) = strings.outer() else { return false };
        let changes_sound =
            |(string, hold): (StringIndex, Hold)| (top..=bottom).contains(&string) && hold.pressed() <= fret;
        if self.digits[finger as usize].is_some() || self.grip.holds().any(changes_sound) {
            return false;
        }
        let (top, bottom) = (top.index() as u8, bottom.index() as u8);
        let here = Standing { fret, touches: false, top, bottom };
        let costs_nothing = self.fits(finger, here)
            && Finger::ALL.into_iter().all(|other| {
                self.digits[other as usize].is_none_or(|there| {
                    let ((_, low), (_, high)) = by_number((finger, here), (other, there));
                    let reversed =
                        low.fret == high.fret && low.top < high.bottom && finger.min(other) != Finger::Thumb;
                    let strained = self.reach.beyond((finger, fret), (other, there.fret)).comfortable > 0;
                    !(here.bars_over(there) || there.bars_over(here) || reversed || strained)
                })
            });
        if costs_nothing {
            self.digits[finger as usize] = Some(here);
        }
        costs_nothing
    }

    /// Whether the barre of another finger lies over a string at a higher fret than it is pressed.
    fn is_barred(&self, string: StringIndex, hold: Hold) -> bool {
        let index = string.index() as u8;
        let others = Finger::ALL.into_iter().filter(|finger| hold.finger() != Some(*finger));
        others
            .into_iter()
            .filter_map(|finger| self.digits[finger as usize])
            .any(|there| there.top <= index && index <= there.bottom && hold.pressed() < there.fret)
    }

    /// Enters the held fingers; false where what is new lies under one of their barres.
    fn stand(&mut self, held: &Grip, wanted: &Grip) -> bool {
        for (string, hold) in held.holds() {
            let Some(finger) = hold.finger() else { continue };
            match self.standing(finger, (string, hold), wanted) {
                Some(standing) => self.digits[finger as usize] = Some(standing),
                None => return false,
            }
        }
        Finger::ALL.into_iter().all(|f| self.digits[f as usize].is_none_or(|s| self.fits(f, s)))
    }

    /// Where a finger stands once it holds one string more; none where it cannot.
    fn standing(
        &self,
        finger: Finger,
        (string, hold): (StringIndex, Hold),
        wanted: &Grip,
    ) -> Option<Standing> {
        let string = string.index() as u8;
        let (fret, touches) = (hold.fret(), hold.touch() == Touch::Natural);
        let Some(old) = self.digits[finger as usize] else {
            return Some(Standing { fret, touches, top: string, bottom: string });
        };
        if old.fret != fret || old.touches != touches || finger == Finger::Thumb {
            return None;
        }
        let (top, bottom) = (old.top.min(string), old.bottom.max(string));
        if finger != Finger::Index && bottom - top > SMALL_BARRE {
            return None;
        }
        let mut covered = (top..=bottom).map(|index| StringIndex::new(usize::from(index)));
        let is_lower = |s: StringIndex| match self.grip.hold(s) {
            Some(under) => under.pressed() < fret && under.finger() != Some(finger),
            None => wanted.hold(s).is_some_and(|under| {
                let touched_too = touches && under.touch() == Touch::Natural && under.fret() == fret;
                under.pressed() < fret && !touched_too
            }),
        };
        let lower = covered.any(is_lower);
        (!lower).then_some(Standing { fret, touches, top, bottom })
    }

    /// Whether a finger that stands there gets on with all the others.
    fn fits(&self, finger: Finger, standing: Standing) -> bool {
        self.others(finger).all(|(other, there)| {
            self.reach.beside((other, there.fret), standing.fret).contains(finger)
                && standing.gets_on(finger, other, there)
        })
    }

    /// Whether a finger gets on with those that stand at its fret.
    fn fits_at_its_fret(&self, finger: Finger, standing: Standing) -> bool {
        self.others(finger).all(|(other, there)| standing.gets_on(finger, other, there))
    }

    /// Where the other fingers stand.
    fn others(&self, finger: Finger) -> impl Iterator<Item = (Finger, Standing)> + '_ {
        let standing = Finger::ALL.into_iter().zip(self.digits);
        standing.filter_map(move |(other, there)| Some((other, there?)).filter(|_| other != finger))
    }
}

/// The strings to be fingered, highest first.
struct Stopped {
    strings: [Option<(StringIndex, Hold)>; MAX_STRINGS],
    count: usize,
}

/// For every string to be fingered the fingers that may stop it.
type Fingers = [FingerSet; MAX_STRINGS];

impl Stopped {
    fn get(&self, index: usize) -> Option<(StringIndex, Hold)> {
        self.strings[..self.count].get(index).copied().flatten()
    }

    /// The fingers that each string may have beside what a hand holds.
    fn fingers(&self, hand: &Held<'_>) -> Fingers {
        let mut fingers = [FingerSet::ALL; MAX_STRINGS];
        for ((string, _), fingers) in self.strings[..self.count].iter().flatten().zip(&mut fingers) {
            if !hand.reach.thumb_may_hold(*string) {
                fingers.remove(Finger::Thumb);
            }
        }
        for (finger, standing) in Finger::ALL.into_iter().zip(hand.digits) {
            if let Some(standing) = standing {
                self.narrow(&mut fingers, 0, |fret| hand.reach.beside((finger, standing.fret), fret));
            }
        }
        fingers
    }

    /// Leaves only some fingers to the strings from `next` on; tells whether each still has one.
    fn narrow(&self, fingers: &mut Fingers, next: usize, may: impl Fn(Fret) -> FingerSet) -> bool {
        let mut each_has_one = true;
        for (place, fingers) in self.strings[..self.count].iter().zip(fingers).skip(next) {
            let Some((_, hold)) = place else { continue };
            *fingers = fingers.intersection(may(hold.fret()));
            each_has_one &= !fingers.is_empty();
        }
        each_has_one
    }
}

struct Search<'a> {
    hand: Held<'a>,
    stopped: Stopped,
    wanted: &'a Grip,
}

impl Search<'_> {
    /// Gives fingers to the strings from `next` on.
    fn place(&mut self, next: usize, fingers: Fingers, found: &mut impl FnMut(Grip)) {
        let Some((string, hold)) = self.stopped.get(next) else {
            found(self.hand.grip);
            return;
        };
        for finger in fingers[next].each() {
            let Some(hold) = hold.under(finger) else { continue };
            let before = self.hand.digits[finger as usize];
            let Some(standing) = self.hand.standing(finger, (string, hold), self.wanted) else { continue };
            if !self.hand.fits_at_its_fret(finger, standing) {
                continue;
            }
            let mut left = fingers;
            let reach = self.hand.reach;
            let beside = |fret| reach.beside((finger, standing.fret), fret);
            if before.is_none() && !self.stopped.narrow(&mut left, next + 1, beside) {
                continue;
            }
            self.hand.digits[finger as usize] = Some(standing);
            self.hand.grip.set(string, Some(hold));
            self.place(next + 1, left, found);
            self.hand.grip.set(string, None);
            self.hand.digits[finger as usize] = before;
        }
    }
}
