//! What it may save in the next move that notes are held besides a melody note.
//!
//! Two hands have the same melody note under the same finger; the one holds other notes besides, the other nothing
//! else. Both go to the same grip. The one may have a finger down already that the other has to put down, or stand
//! nearer. [`HoldingOn`] bounds from above what it saves, whatever the grip: a hand that is behind by more than that
//! can't catch up in that move, nor later, for what follows is the same. Only where the grip is all open strings the
//! two stand apart until the next finger comes down, at whatever pace, and the bound knows of that. It goes through all
//! terms of a move and takes the best of every table where it can't know the entry.

use super::grip::{Grip, StringSet};
use super::moves::Way;
use super::pace::Pace;
use super::reach::Reach;
use super::weights::Table;
use crate::hand::{Finger, FingerSet};
use crate::neck::{Fret, StringIndex};

/// The digits of a hand.
const DIGITS: usize = Finger::ALL.len();
/// One more than the highest fret.
const FRETS: usize = Fret::MAX as usize + 1;

/// What holding on may save at one pace.
#[derive(Clone, Debug)]
pub struct HoldingOn {
    digits: [OfDigit; DIGITS],
    /// A string under a finger, and an open one.
    strings: [i32; 2],
    /// The top voice, where it may have another finger, and where it may have none.
    leads: [i32; 2],
    /// A barre that need not be laid down.
    barre: i32,
    /// An open string that rings while the hand travels.
    rings: i32,
    /// Each half semitone that the hand is stretched already.
    opens: i32,
    /// That the hand stands lower: by where it would stand with the melody note alone, and where it stands at the lowest.
    shifts: Box<[[i32; FRETS]; FRETS]>,
}

/// What may be saved by a digit that is down already.
#[derive(Clone, Copy, Default, Debug)]
struct OfDigit {
    /// When it holds strings that the other hand does not.
    alone: i32,
    /// When it stops the melody note too, so that the other hand has it down as well.
    shared: i32,
}

/// What a hand may save that holds some notes, or a part of them, besides any melody note.
#[derive(Clone, Copy, Debug)]
pub struct Saving {
    /// Whatever the melody note.
    points: i32,
    /// How much more where a digit stops the melody note too.
    shared: [i32; DIGITS],
    /// Where the hand stands; 0 where no finger is down.
    standing: u8,
    /// The strings under fingers, and the open ones.
    strings: [StringSet; 2],
}

impl HoldingOn {
    /// The bounds for moves at a pace; none under weights by which it is a gain to stretch, to bar or to shift.
    pub fn at(reach: &Reach, pace: &Pace) -> Option<Self> {
        // What anything costs grows or falls with haste in a straight line, so that the most lies at one of the ends.
        let any_pace = [0, i64::MAX].map(|milliseconds| Pace::new(reach, milliseconds));
        let repeats = pace.price(Table::Repeats, 0);
        let follows = least(pace.prices(Table::Follows)).min(repeats + pace.price(Table::Replaces, 0));
        let leads = pace.prices(Table::Leads);
        let barres = pace.prices(Table::BarreLands);
        let opens = pace.price(Table::Opens, 0);
        let dearest_lead = most(leads).max(0);
        let is_sensible = opens >= 0
            && least(barres) >= 0
            && pairs().all(|(here, there)| least_shift(pace, here, there) >= 0);
        is_sensible.then(|| Self {
            digits: Finger::ALL.map(|finger| OfDigit::of(pace, finger)),
            strings: [(-repeats.min(follows)).max(0), (-repeats).max(0)],
            leads: [dearest_lead - least(leads).min(0), dearest_lead],
            barre: most(barres),
            rings: any_pace.iter().map(|pace| pace.price(Table::Rings, 0).abs()).max().unwrap_or(0),
            opens,
            shifts: shifts(pace, &any_pace),
        })
    }

    /// What may be saved by holding these notes, or a part of them.
    pub fn saving(&self, held: &Grip) -> Saving {
        let mut saving =
            Saving { points: self.rings, shared: [0; DIGITS], standing: 0, strings: [StringSet::EMPTY; 2] };
        let mut down = FingerSet::default();
        for string in held.strings().each() {
            let stop = held.stop(string);
            let kind = usize::from(stop.is_none());
            saving.strings[kind].insert(string);
            saving.points += self.strings[kind];
            let Some((fret, finger)) = stop else { continue };
            if !down.contains(finger) {
                down.insert(finger);
                let OfDigit { alone, shared } = self.digits[finger as usize];
                saving.points += alone;
                saving.shared[finger as usize] = shared - alone;
            }
            if finger != Finger::Thumb {
                let standing = fret.number().saturating_sub(finger.number() - 1).max(1);
                saving.standing = if saving.standing == 0 { standing } else { saving.standing.min(standing) };
            }
        }
        if !saving.strings[0].is_empty() {
            saving.points += self.barre;
        }
        saving
    }

    /// The most that a hand saves in the next move which holds all or a part of what the saving is for, besides a melody
    /// note on this string under this finger, if any. With the melody note alone it would stand at `standing`; as it is,
    /// it is stretched so far, in half semitones beyond comfortable.
    pub fn most(
        &self,
        saving: &Saving,
        (string, finger): (StringIndex, Option<Finger>),
        standing: u8,
        stretched: u8,
    ) -> i32 {
        let shared = finger.map_or(0, |finger| saving.shared[finger as usize]);
        let above = saving.strings.map(|strings| !strings.above(string).is_empty());
        let leads = match above {
            [true, _] => self.leads[0],
            [false, true] => self.leads[1],
            [false, false] => 0,
        };
        let shift = if saving.standing == 0 {
            0
        } else {
            self.shifts[usize::from(standing)][usize::from(saving.standing.min(standing))]
        };
        saving.points + shared + leads + shift + self.opens * i32::from(stretched)
    }
}

impl OfDigit {
    fn of(pace: &Pace, finger: Finger) -> Self {
        let digit = finger as usize;
        let of = |table, each: usize| &pace.prices(table)[digit * each..][..each];
        let hinges = pace.price(Table::Hinges, usize::from(finger != Finger::Index));
        let staying = [pace.price(Table::Stays, digit), hinges];
        let (lands, leaves) = (pace.price(Table::Lands, digit), pace.price(Table::Leaves, digit));
        let goes_on = [of(Table::Slides, 3), of(Table::Hops, 2), of(Table::Jumps, 2), &staying].concat();
        let alone = (-leaves).max(lands - least(&goes_on)).max(0);
        Self { alone, shared: (most(&goes_on) - least(&goes_on)).max(alone) }
    }
}

/// How the hand that holds less may go while the other one goes so: whoever holds more holds or keeps in place whatever
/// the other does.
const TOGETHER: [(Way, &[Way]); 3] = [
    (Way::Pivoting, &[Way::Pivoting]),
    (Way::Gripping, &[Way::Gripping, Way::Pivoting]),
    (Way::Free, &Way::ALL),
];

/// What it may save that a hand stands anywhere from the lowest place to where the other one does: in the move itself,
/// or with no finger down in one at any pace.
fn shifts(pace: &Pace, any_pace: &[Pace]) -> Box<[[i32; FRETS]; FRETS]> {
    let mut shifts = Box::new([[0; FRETS]; FRETS]);
    for bare in 1..FRETS {
        let mut most = 0;
        for full in (1..=bare).rev() {
            for to in 1..FRETS {
                for (way, others) in TOGETHER {
                    let cheapest = others.iter().map(|way| shift(pace, full, to, *way)).min();
                    most = most.max(shift(pace, bare, to, way) - cheapest.unwrap_or(0));
                }
                for pace in any_pace {
                    most = most.max(shift(pace, bare, to, Way::Free) - shift(pace, full, to, Way::Free));
                }
            }
            shifts[bare][full] = most;
        }
    }
    shifts
}

fn shift(pace: &Pace, here: usize, there: usize, way: Way) -> i32 {
    if here == there { 0 } else { pace.shift(here as u8, there as u8, way) }
}

fn least_shift(pace: &Pace, here: usize, there: usize) -> i32 {
    Way::ALL.map(|way| shift(pace, here, there, way)).into_iter().min().unwrap_or(0)
}

fn pairs() -> impl Iterator<Item = (usize, usize)> {
    (1..FRETS).flat_map(|a| (1..FRETS).map(move |b| (a, b)))
}

fn least(entries: &[i32]) -> i32 {
    entries.iter().copied().min().unwrap_or(0)
}

fn most(entries: &[i32]) -> i32 {
    entries.iter().copied().max().unwrap_or(0)
}
