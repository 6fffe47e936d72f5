//! What moves cost at one pace, worked out once for all moves of a moment.

use super::moves::{Changes, HandAt, LEADS, MoveEffort, Way, each_change};
use super::reach::Reach;
use super::weights::{Shown, Table, Weights};
use crate::hand::Finger;
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
    bounds: Bounds,
}

/// What cannot cost less.
#[derive(Clone, Debug)]
struct Bounds {
    /// A digit that stays at its fret: where it is, on another string, as a hinge.
    same_fret: [i32; 5],
    /// A digit that comes down anywhere else.
    elsewhere: [i32; 5],
    /// Another digit that is lifted or was in the air.
    lifted: [i32; 5],
    /// An open string, and a stopped one, with what sounds there again.
    string: [i32; 2],
    /// Fingers of the highest string, by the one that comes there.
    leads: [i32; 4],
    barre: i32,
    strain: i32,
    rings: i32,
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
        let bounds = Bounds::new(&prices);
        Self { prices, shifts, bounds }
    }

    /// What a move costs, all terms together.
    #[inline]
    pub fn total(&self, from: &HandAt, next: &HandAt) -> i32 {
        let mut total = Total { pace: self, total: 0 };
        each_change(from, next, &mut total);
        total.total
    }

    /// What a move costs, term by term.
    pub fn effort(&self, from: &HandAt, next: &HandAt) -> MoveEffort {
        let mut terms = Terms { pace: self, effort: MoveEffort::default() };
        each_change(from, next, &mut terms);
        terms.effort
    }

    /// What no move to a hand costs less than when it comes from a hand that stands at `from`.
    pub fn least(&self, from: Option<Fret>, next: &HandAt) -> i32 {
        let (here, there) = (from.map_or(0, Fret::number), next.standing);
        let mut least = self.least_but_shift(here, next);
        if here != 0 && there != 0 && here != there {
            let (here, there) = (usize::from(here), usize::from(there));
            let ways = self.shifts.each_ref().map(|shifts| shifts[here][there]);
            least += ways[0].min(ways[1]).min(ways[2]);
            least += if next.rings { self.bounds.rings } else { 0 };
        }
        least
    }

    /// The same without the way along the neck. Where the hand stood at `here`, no finger stood lower than its own
    /// fret there: what lies lower is new.
    fn least_but_shift(&self, here: u8, next: &HandAt) -> i32 {
        let bounds = &self.bounds;
        let mut least = next.lead().map_or(0, |(new, _)| bounds.leads[new]);
        let mut stopped = 0;
        let mut bars = false;
        for digit in 0..5_u8 {
            let (fret, index) = (next.frets[usize::from(digit)], usize::from(digit));
            let lowest = if digit == 0 || here <= 1 { 0 } else { here + digit - 1 };
            least += match fret {
                0 => bounds.lifted[index],
                _ if fret < lowest => bounds.elsewhere[index],
                _ => bounds.elsewhere[index].min(bounds.same_fret[index]),
            };
            stopped += next.strings[index].len() as i32;
            bars |= next.strings[index].len() > 1;
        }
        let open = next.sounding.len() as i32 - stopped;
        least += open * bounds.string[0] + stopped * bounds.string[1];
        least += if bars { bounds.barre } else { 0 };
        least + i32::from(next.strain) * bounds.strain
    }
}

impl Bounds {
    fn new(prices: &[i32; Weights::ENTRIES]) -> Self {
        let price = |table: Table, entry| prices[table.slot(entry)];
        let least = |table: Table, first, count: usize| {
            (first..first + count).map(|entry| price(table, entry)).min().unwrap_or(0)
        };
        let digits = [0, 1, 2, 3, 4];
        let hinge = |digit: usize| price(Table::Hinges, usize::from(digit != Finger::Index as usize));
        let again = price(Table::Repeats, 1).min(0);
        let stays = price(Table::Repeats, 0);
        Self {
            same_fret: digits.map(|digit| {
                let hops = least(Table::Hops, digit * 2, 2);
                price(Table::Stays, digit).min(hinge(digit)).min(hops)
            }),
            elsewhere: digits.map(|digit| {
                let jumps = least(Table::Jumps, digit * 2, 2).min(least(Table::Slides, digit * 3, 3));
                price(Table::Lands, digit).min(jumps)
            }),
            lifted: digits.map(|digit| price(Table::Leaves, digit).min(0)),
            string: [
                stays.min(again),
                (stays + price(Table::Replaces, 0).min(0)).min(again + least(Table::Follows, 0, 5).min(0)),
            ],
            leads: [0, 1, 2, 3].map(|new| {
                let from = |old: usize| least(Table::Leads, (old * 4 + new) * LEADS, LEADS);
                (0..4).map(from).min().unwrap_or(0).min(0)
            }),
            barre: least(Table::BarreLands, 0, 2).min(0),
            strain: price(Table::Opens, 0).min(0),
            rings: price(Table::Rings, 0).min(0),
        }
    }
}

/// Adds up the changes of a move.
struct Total<'a> {
    pace: &'a Pace,
    total: i32,
}

impl Changes for Total<'_> {
    #[inline]
    fn changed(&mut self, table: Table, entry: usize, times: i32) {
        self.total += self.pace.prices[table.slot(entry)] * times;
    }

    #[inline]
    fn shifted(&mut self, here: u8, there: u8, way: Way) {
        self.total += self.pace.shifts[way as usize][usize::from(here)][usize::from(there)];
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
        let points = self.pace.shifts[way as usize][usize::from(here)][usize::from(there)];
        self.effort.add(super::MoveTerm::Shift, points);
    }
}
