//! What moves cost at one pace, worked out once for all moves of a moment.

use super::moves::{Changes, HandAt, MoveEffort, Way, each_change};
use super::reach::Reach;
use super::weights::{Shown, Table, Weights};
use crate::neck::Fret;

/// One more than the highest fret.
const FRETS: usize = Fret::MAX as usize + 1;

/// Each step of haste begins below so many milliseconds: the time goes down by a factor of √2.
const HASTE: [i64; 8] = [1000, 707, 500, 354, 250, 177, 125, 88];

/// How many steps of haste so many milliseconds ask for: none with a second or more, 8 at the most.
pub fn haste(milliseconds: i64) -> i32 {
    HASTE.into_iter().filter(|limit| milliseconds < *limit).count() as i32
}

/// The tables of moves.
const MOVES: std::ops::RangeInclusive<usize> = Table::Stays as usize..=Table::Rings as usize;

/// What every change of the hand costs when there are so many milliseconds for it.
#[derive(Clone, Debug)]
pub struct Pace {
    /// What every entry of a table of moves costs once, at its slot.
    prices: [i32; Weights::ENTRIES],
    /// What a shift costs from fret to fret, by its way.
    shifts: [[[i32; FRETS]; FRETS]; Way::ALL.len()],
}

impl Pace {
    /// The costs of moves within so many milliseconds.
    pub fn new(reach: &Reach, milliseconds: i64) -> Self {
        let haste = haste(milliseconds);
        let mut prices = [0; Weights::ENTRIES];
        for table in &Table::ALL[MOVES] {
            let (leisure, hurry) = reach.weights().table(*table).split_at(table.len() / 2);
            for (entry, (leisure, hurry)) in leisure.iter().zip(hurry).enumerate() {
                prices[table.slot(entry)] = leisure + haste * hurry;
            }
        }
        let mut shifts = [[[0; FRETS]; FRETS]; Way::ALL.len()];
        for (table, shifts) in Way::ALL.map(Way::table).into_iter().zip(&mut shifts) {
            for (here, row) in (0..).zip(shifts).skip(1) {
                for (there, shift) in (0..).zip(row).skip(1).filter(|(there, _)| *there != here) {
                    let steps = reach.steps(Fret::new(here), Fret::new(there)).max(1);
                    let back = if there < here { prices[Table::Returns.slot(0)] } else { 0 };
                    *shift = prices[table.slot(steps - 1)] + back;
                }
            }
        }
        Self { prices, shifts }
    }

    /// What a move costs, all terms together.
    #[inline]
    pub fn total(&self, from: &HandAt, next: &HandAt) -> i32 {
        let mut total = Total::new(self);
        each_change(from, next, &mut total);
        total.points()
    }

    /// What a move costs, term by term.
    pub fn effort(&self, from: &HandAt, next: &HandAt) -> MoveEffort {
        let mut terms = Terms { pace: self, effort: MoveEffort::default() };
        each_change(from, next, &mut terms);
        terms.effort
    }

    /// What an entry of a table costs once.
    pub(super) const fn price(&self, table: Table, entry: usize) -> i32 {
        self.prices[table.slot(entry)]
    }

    /// What it costs to travel from one fret to another, both known and different.
    #[inline]
    pub(super) fn shift(&self, here: u8, there: u8, way: Way) -> i32 {
        self.shifts[way as usize][usize::from(here)][usize::from(there)]
    }
}

/// Adds up the changes of a move.
pub(super) struct Total<'a> {
    pace: &'a Pace,
    points: i32,
}

impl<'a> Total<'a> {
    pub(super) const fn new(pace: &'a Pace) -> Self {
        Self { pace, points: 0 }
    }

    pub(super) const fn points(&self) -> i32 {
        self.points
    }
}

impl Changes for Total<'_> {
    #[inline]
    fn changed(&mut self, table: Table, entry: usize, times: i32) {
        self.points += self.pace.prices[table.slot(entry)] * times;
    }

    #[inline]
    fn shifted(&mut self, here: u8, there: u8, way: Way) {
        self.points += self.pace.shift(here, there, way);
    }
}

/// Sorts the changes of a move by their terms.
struct Terms<'a> {
    pace: &'a Pace,
    effort: MoveEffort,
}

impl Changes for Terms<'_> {
    fn changed(&mut self, table: Table, entry: usize, times: i32) {
        if let Shown::Move(term) = table.shown() {
            self.effort.add(term, self.pace.prices[table.slot(entry)] * times);
        }
    }

    fn shifted(&mut self, here: u8, there: u8, way: Way) {
        let points = self.pace.shift(here, there, way);
        self.effort.add(super::MoveTerm::Shift, points);
    }
}
