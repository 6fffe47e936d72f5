//! What it may save in the next move that notes are held besides a melody note.
//!
//! Two hands have the same melody note under the same finger; the one holds other notes besides, the other nothing
//! else. Both go to the same grip. The one may have a finger down already that the other has to put down, or stand
//! nearer. [`HoldingOn`] bounds from above what it saves, whatever the grip: a hand that is behind by more than that
//! can't catch up in that move, nor later, for what follows is the same. Only where the grip is all open strings the
//! two stand apart until the next finger comes down, at whatever pace, and the bound knows of that. It goes through all
//! terms of a move and takes the best of every table where it can't know the entry.

use super::hand_at::HandAt;
use super::moves::Way;
use super::pace::Pace;
use super::reach::Reach;
use super::weights::Table;
use crate::hand::Finger;
use crate::neck::Fret;

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
    /// That the hand stands elsewhere: by where it would stand with the melody note alone, and where it stands.
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

impl HoldingOn {
    /// The bounds for moves at a pace; none under weights by which it is a gain to stretch, to bar or to shift.
    pub fn at(reach: &Reach, pace: &Pace) -> Option<Self> {
        // What anything costs grows or falls with haste in a straight line, so that the most lies at one of the ends.
        let any_pace = [0, i64::MAX].map(|milliseconds| Pace::new(reach, milliseconds));
        let leads = pace.prices(Table::Leads);
        let barres = pace.prices(Table::BarreLands);
        let opens = pace.price(Table::Opens, 0);
        let dearest_lead = most(leads).max(0);
        let is_sensible = opens >= 0
            && least(barres) >= 0
            && pairs().all(|(here, there)| least_shift(pace, here, there) >= 0);
        is_sensible.then(|| Self {
            digits: Finger::ALL.map(|finger| OfDigit::of(pace, finger)),
            strings: [-pace.least_of_string(), (-pace.price(Table::Repeats, 0)).max(0)],
            leads: [dearest_lead - least(leads).min(0), dearest_lead],
            barre: most(barres),
            rings: any_pace.iter().map(|pace| pace.price(Table::Rings, 0).abs()).max().unwrap_or(0),
            opens,
            shifts: shifts(pace, &any_pace),
        })
    }

    /// The most that a hand may save which holds all that `bare` does, one melody note, and other notes besides.
    ///
    /// Where no finger stops the melody note the two have to stand at one place.
    pub fn most(&self, bare: &HandAt, full: &HandAt) -> i32 {
        let others = full.sounding.without(bare.sounding);
        let mut most = self.rings + self.opens * i32::from(full.whole.strain);
        for string in others.each() {
            most += self.strings[usize::from(full.grip.stop(string).is_none())];
        }
        let mut stops = false;
        for (digit, of) in self.digits.iter().enumerate() {
            if !full.strings[digit].intersection(others).is_empty() {
                most += if bare.frets[digit] == 0 { of.alone } else { of.shared };
                stops = true;
            }
        }
        if stops {
            most += self.barre;
            most += self.shifts[usize::from(bare.whole.standing)][usize::from(full.whole.standing)];
        }
        most + match full.lead {
            lead if lead == bare.lead => 0,
            Some(_) => self.leads[0],
            None => self.leads[1],
        }
    }
}

impl OfDigit {
    fn of(pace: &Pace, finger: Finger) -> Self {
        let digit = finger as usize;
        let (lands, leaves) = (pace.price(Table::Lands, digit), pace.price(Table::Leaves, digit));
        let (cheapest, dearest) = pace.goes_on(digit);
        let alone = (-leaves).max(lands - cheapest).max(0);
        Self { alone, shared: (dearest - cheapest).max(alone) }
    }
}

/// How the hand that holds less may go while the other one goes so: whoever holds more holds or keeps in place whatever
/// the other does.
const TOGETHER: [(Way, &[Way]); 3] = [
    (Way::Pivoting, &[Way::Pivoting]),
    (Way::Gripping, &[Way::Gripping, Way::Pivoting]),
    (Way::Free, &Way::ALL),
];

/// A farther way counts by tenths, of which less than a point is cut off from each of two ways, so that between its ends
/// the line of what one saves against the other may rise above them by less than two points: one, as a whole number.
const CUT_OFF: i32 = 1;

/// What it may save that a hand stands elsewhere than another one: in the move itself, or with no finger down in one at
/// any pace.
fn shifts(pace: &Pace, any_pace: &[Pace]) -> Box<[[i32; FRETS]; FRETS]> {
    let mut shifts = Box::new([[0; FRETS]; FRETS]);
    for (bare, full) in pairs() {
        for to in 1..FRETS {
            let most = &mut shifts[bare][full];
            for (way, others) in TOGETHER {
                let cheapest = others.iter().map(|way| shift(pace, full, to, *way)).min();
                *most = (*most).max(shift(pace, bare, to, way) - cheapest.unwrap_or(0));
            }
            for pace in any_pace {
                let saved = shift(pace, bare, to, Way::Free) - shift(pace, full, to, Way::Free);
                *most = (*most).max(saved + CUT_OFF);
            }
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
