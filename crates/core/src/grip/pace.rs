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

/// How a way along the neck is counted: by which entry of the tables of shifts, and how many tenths of it.
///
/// The last entry is that of ten [`SEMITONE`](crate::hand::span::SEMITONE)s, four or five frets near the nut. Farther ways
/// are hardly ever printed, too rarely to learn an entry each; they cost more in line with the distance (common practice,
/// no source).
pub fn travelled(reach: &Reach, here: Fret, there: Fret) -> (usize, i32) {
    const LAST: usize = 10;
    let steps = reach.steps(here, there).max(1);
    (steps.min(LAST) - 1, 10 * steps.max(LAST) as i32 / LAST as i32)
}

/// The tables of moves.
const MOVES: std::ops::RangeInclusive<usize> = Table::Stays as usize..=Table::Rings as usize;

/// What a shift costs from fret to fret, by its way.
type Shifts = [[[i32; FRETS]; FRETS]; Way::ALL.len()];

/// What every change of the hand costs when there are so many milliseconds for it.
#[derive(Clone, Debug)]
pub struct Pace {
    /// What every entry of a table of moves costs once, at its slot.
    prices: [i32; Weights::ENTRIES],
    /// What a shift costs from fret to fret, by its way.
    shifts: Shifts,
    least: Least,
}

/// The least that parts of a move cost, wherever it comes from.
#[derive(Clone, Debug)]
struct Least {
    /// Of every digit that ends in the air, and of one that ends on the neck.
    digits: [[i32; 2]; 5],
    /// Of a string that sounds.
    string: i32,
    /// Of the top voice, by the finger that it comes to.
    leads: [i32; 4],
    /// Of the hand as a whole.
    whole: i32,
}

impl Least {
    fn of(prices: &[i32; Weights::ENTRIES], shifts: &Shifts) -> Self {
        let price = |table: Table, entry: usize| prices[table.slot(entry)];
        let least = |entries: &mut dyn Iterator<Item = i32>| entries.min().unwrap_or(0);
        let digits = std::array::from_fn(|digit| {
            let (cheapest, _) = goes_on(prices, digit);
            [price(Table::Leaves, digit).min(0), cheapest.min(price(Table::Lands, digit))]
        });
        let repeats = price(Table::Repeats, 0);
        let follows = least(&mut (0..Table::Follows.len() / 2).map(|entry| price(Table::Follows, entry)));
        let leads = std::array::from_fn(|to| {
            let from = (0..4).flat_map(|from| (0..LEADS).map(move |way| (from * 4 + to) * LEADS + way));
            least(&mut from.map(|entry| price(Table::Leads, entry))).min(0)
        });
        let string = repeats.min(repeats + price(Table::Replaces, 0)).min(follows).min(0);
        let barre = price(Table::BarreLands, 0).min(price(Table::BarreLands, 1)).min(0);
        let opens = price(Table::Opens, 0).min(0) * i32::from(u8::MAX);
        let shift = least(&mut shifts.iter().flatten().flatten().copied()).min(0);
        let whole = barre + opens + shift + price(Table::Rings, 0).min(0);
        Self { digits, string, leads, whole }
    }
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
                    let (entry, tenths) = travelled(reach, Fret::new(here), Fret::new(there));
                    let back = if there < here { prices[Table::Returns.slot(0)] } else { 0 };
                    *shift = prices[table.slot(entry)] * tenths / 10 + back;
                }
            }
        }
        Self { prices, shifts, least: Least::of(&prices, &shifts) }
    }

    /// What a move costs, all terms together.
    #[inline]
    pub fn total(&self, from: &HandAt, next: &HandAt) -> i32 {
        let mut total = Total::new(self);
        each_change(from, next, &mut total);
        total.points()
    }

    /// What no move to a hand costs less than, wherever it comes from.
    pub fn least(&self, next: &HandAt) -> i32 {
        self.least_of_parts(next) + self.least.whole
    }

    /// The same, but for what concerns the hand as a whole.
    pub(super) fn least_of_parts(&self, next: &HandAt) -> i32 {
        let digits = next.frets.iter().zip(&self.least.digits);
        let digits: i32 = digits.map(|(fret, [gone, down])| if *fret == 0 { gone } else { down }).sum();
        let lead = next.lead.map_or(0, |lead| self.least.leads[usize::from(lead.finger)]);
        digits + self.least.string * next.sounding.len() as i32 + lead
    }

    /// What it costs that a digit which is down goes on to be down, the least and the most.
    pub(super) fn goes_on(&self, digit: usize) -> (i32, i32) {
        goes_on(&self.prices, digit)
    }

    /// What going on along a string costs at the least, no more than nothing.
    pub(super) const fn least_of_string(&self) -> i32 {
        self.least.string
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

    /// What the entries of a table cost once.
    pub(super) fn prices(&self, table: Table) -> &[i32] {
        &self.prices[table.slot(0)..][..table.len() / 2]
    }

    /// What it costs to travel from one fret to another, both known and different.
    #[inline]
    pub(super) fn shift(&self, here: u8, there: u8, way: Way) -> i32 {
        self.shifts[way as usize][usize::from(here)][usize::from(there)]
    }
}

/// What it costs that a digit which is down goes on to be down, the least and the most.
fn goes_on(prices: &[i32; Weights::ENTRIES], digit: usize) -> (i32, i32) {
    let of = |table: Table, each: usize| prices[table.slot(digit * each)..][..each].iter().copied();
    let hinges = prices[Table::Hinges.slot(usize::from(digit != Finger::Index as usize))];
    let prices =
        of(Table::Stays, 1).chain(of(Table::Slides, 3)).chain(of(Table::Hops, 2)).chain(of(Table::Jumps, 2));
    prices.fold((hinges, hinges), |(least, most), price| (least.min(price), most.max(price)))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::Hand;
    use crate::neck::Instrument;

    #[test]
    fn the_farther_the_dearer_however_far() {
        let reach = Reach::new(&Instrument::classical(), &Hand::default());
        let way = |there| travelled(&reach, Fret::new(1), Fret::new(there));
        // 34.4, 126.6, 154.3 and 310.4 mm.
        assert_eq!([2, 5, 6, 13].map(way), [(2, 10), (9, 10), (9, 12), (9, 23)]);
        let pace = Pace::new(&reach, 250);
        for way in Way::ALL {
            let costs: Vec<i32> = (1..19).map(|there| pace.shift(1, there, way)).collect();
            assert!(costs.is_sorted() && costs[17] > 2 * costs[5], "{way:?}: {costs:?}");
        }
    }
}
