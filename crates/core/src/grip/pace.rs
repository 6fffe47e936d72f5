//! What moves cost at one pace, worked out once for all moves of a moment.

use super::moves::{Change, HandAt, MoveEffort, each_change};
use super::reach::Reach;
use super::strain::placing;
use super::weights::Table;
use crate::hand::Finger;
use crate::hand::span::SEMITONE;
use crate::neck::Fret;

/// Shorter times are as hard as this many milliseconds, longer ones as easy as that many.
const MILLISECONDS: (i64, i64) = (120, 1500);
/// One more than the highest fret.
const FRETS: usize = Fret::MAX as usize + 1;
/// Every digit, in the order of their numbers.
const DIGITS: [Finger; 5] = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];

/// What every change of the hand costs when there are so many milliseconds for it.
#[derive(Clone, Debug)]
pub struct Pace {
    stays: [i32; 5],
    slides: i32,
    hops: i32,
    lands: i32,
    shifts: [[i32; FRETS]; FRETS],
    /// The cheapest shift to a position from anywhere, staying included.
    cheapest_shift: [i32; FRETS],
    rings: i32,
}

impl Pace {
    /// The costs of moves within so many milliseconds.
    pub fn new(reach: &Reach, milliseconds: i64) -> Self {
        let weight = |table| i64::from(reach.weights().get(table, 0));
        let time = milliseconds.clamp(MILLISECONDS.0, MILLISECONDS.1);
        let mut shifts = [[0; FRETS]; FRETS];
        let mut cheapest_shift = [0; FRETS];
        for (here, row) in (0..).zip(&mut shifts).skip(1) {
            for (there, shift) in (0..).zip(row).skip(1) {
                let distance = i64::from(reach.apart(Fret::new(here), Fret::new(there)).count());
                let in_a_second = i64::from(SEMITONE.count()) * time;
                *shift = (weight(Table::Shift) * distance * 1000 / in_a_second) as i32;
                cheapest_shift[usize::from(there)] = cheapest_shift[usize::from(there)].min(*shift);
            }
        }
        let by_time = |table| (weight(table) * 500 / time) as i32;
        Self {
            stays: DIGITS.map(|digit| weight(Table::Pivot) as i32 - placing(reach.weights(), digit)),
            slides: weight(Table::Guide) as i32,
            hops: by_time(Table::Hopping),
            lands: by_time(Table::Landing),
            shifts,
            cheapest_shift,
            rings: weight(Table::OpenRinging) as i32,
        }
    }

    /// What a move costs, all terms together.
    #[inline]
    pub fn total(&self, from: &HandAt, next: &HandAt) -> i32 {
        let mut total = 0;
        each_change(from, next, |change| total += self.price(change));
        total
    }

    /// What a move costs, term by term.
    pub fn effort(&self, from: &HandAt, next: &HandAt) -> MoveEffort {
        let mut effort = MoveEffort::default();
        each_change(from, next, |change| effort.add(change.term(), self.price(change)));
        effort
    }

    /// What no move to a hand costs less than when it comes from a hand that stands at `from`.
    pub fn least(&self, from: Option<Fret>, next: &HandAt) -> i32 {
        let (here, there) = (from.map_or(0, Fret::number), next.standing());
        let fingers: i32 = next.digits().map(|digit| self.least_of(digit, here, next)).sum();
        let shifts = here != 0 && there != 0 && here != there;
        let travel = if shifts { self.shifts[usize::from(here)][usize::from(there)] } else { 0 };
        let rings = if shifts && next.rings() { self.rings.min(0) } else { 0 };
        fingers + travel + rings
    }

    /// What no move to a hand costs less than, wherever it comes from.
    pub fn least_of_all(&self, next: &HandAt) -> i32 {
        let fingers: i32 =
            next.digits().map(|digit| self.stays[digit as usize].min(self.least_landing())).sum();
        fingers + self.cheapest_shift[usize::from(next.standing())] + self.rings.min(0)
    }

    /// The least that a digit of the next hand costs when the hand stood at `here`: no finger stood lower than its
    /// own fret there, so what lies lower is new.
    fn least_of(&self, digit: Finger, here: u8, next: &HandAt) -> i32 {
        let lowest = if digit == Finger::Thumb || here <= 1 { 0 } else { here + digit.number() - 1 };
        let may_stay = next.fret(digit as usize) >= lowest;
        if may_stay { self.stays[digit as usize].min(self.least_landing()) } else { self.least_landing() }
    }

    /// The least that a digit costs which comes down.
    fn least_landing(&self) -> i32 {
        self.lands + self.slides.min(self.hops).min(0)
    }

    #[inline]
    const fn price(&self, change: Change) -> i32 {
        match change {
            Change::Stays(digit) => self.stays[digit],
            Change::Slides => self.slides,
            Change::Hops => self.hops,
            Change::Lands => self.lands,
            Change::Shifts(here, there) => self.shifts[here as usize][there as usize],
            Change::Rings => self.rings,
        }
    }
}
