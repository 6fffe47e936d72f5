//! One part of a move: its states before and after, and what every pair of them costs.

use std::ops::AddAssign;

use super::super::hand_at::{Digit, Lead};
use super::super::hold::Hold;
use super::super::moves::Found;
use super::super::pace::{Pace, Total};
use super::groups::{ByGroup, GROUPS};
use crate::neck::{Fret, MAX_STRINGS};

/// What a part of a hand may be in.
pub(super) trait State: Copy {
    /// A number of its own, not far above the count of all states.
    fn key(self) -> usize;
}

impl State for Digit {
    fn key(self) -> usize {
        usize::from(self.fret) << MAX_STRINGS | usize::from(self.strings.bits())
    }
}

impl State for Option<Hold> {
    fn key(self) -> usize {
        self.map_or(0, |hold| usize::from(hold.packed()))
    }
}

impl State for Option<Lead> {
    fn key(self) -> usize {
        let number = |Lead { finger, fret, string }: Lead| {
            (usize::from(finger) * FRETS + usize::from(fret)) * MAX_STRINGS + usize::from(string)
        };
        self.map_or(0, |lead| 1 + number(lead))
    }
}

/// One more than the highest fret.
const FRETS: usize = Fret::MAX as usize + 1;

/// What a part of a move costs, and what it has to say to the whole: small enough to add up fast and to stay near a
/// processor.
#[derive(Clone, Copy, Default, Debug)]
pub(super) struct Price(i32);

/// The points stand above what is found, half a byte each: no hand has more than five digits. Eight million points are
/// left, a thousand times what any move costs.
const POINTS: u32 = 8;
const FOUND: u32 = POINTS / 2;

impl Price {
    /// The price of some changes.
    pub(super) fn of(pace: &Pace, changes: impl FnOnce(&mut Total<'_>) -> Found) -> Self {
        let mut total = Total::new(pace);
        let Found { barres, pivots } = changes(&mut total);
        Self(total.points() << POINTS | i32::from(pivots) << FOUND | i32::from(barres))
    }

    /// A price where nothing is found.
    pub(super) const fn plain(points: i32) -> Self {
        Self(points << POINTS)
    }

    pub(super) const fn points(self) -> i32 {
        self.0 >> POINTS
    }

    pub(super) fn found(self) -> Found {
        let half = |bits: i32| (bits & 0xF) as u8;
        Found { barres: half(self.0), pivots: half(self.0 >> FOUND) }
    }
}

impl AddAssign for Price {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

/// The least of a group that there is not: so much that all parts together are no overflow.
const NOWHERE: i32 = i32::MAX / 32;

/// Where the prices of moves to one state of a part begin.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Row {
    prices: u32,
    least: u32,
}

impl Row {
    /// No prices at all.
    pub(super) const NONE: Self = Self { prices: u32::MAX, least: u32::MAX };
}

/// The prices of all parts.
#[derive(Debug, Default)]
pub(super) struct Prices {
    /// Row by row, for every state before.
    all: Vec<Price>,
    /// Row by row, the least of every group.
    least: Vec<ByGroup>,
    /// Of one row, by the states before.
    bounds: Vec<i32>,
}

impl Prices {
    /// Forgets every price.
    pub(super) fn clear(&mut self) {
        self.all.clear();
        self.least.clear();
    }

    /// What it costs to come to the state of a row from a state before.
    #[inline]
    pub(super) fn of(&self, row: Row, before: u16) -> Price {
        self.all[row.prices as usize + usize::from(before)]
    }

    /// The least of a row, by group.
    #[inline]
    pub(super) fn least(&self, row: Row) -> &ByGroup {
        &self.least[row.least as usize]
    }
}

/// One part of the hands that are set out from.
#[derive(Debug)]
pub(super) struct Part<S> {
    /// The states that it is in.
    states: Vec<S>,
    /// The number of each of them by its key, one more than that; 0 where there is none.
    numbers: Vec<u16>,
    /// Which of them occur in which groups, each pair once.
    occurs: Vec<(u16, u16)>,
    /// For every state the groups in which it occurs, a bit each.
    known: Vec<u32>,
}

impl<S> Default for Part<S> {
    fn default() -> Self {
        Self { states: Vec::new(), numbers: Vec::new(), occurs: Vec::new(), known: Vec::new() }
    }
}

impl<S: State> Part<S> {
    /// Forgets every state.
    pub(super) fn clear(&mut self) {
        for state in self.states.drain(..) {
            self.numbers[state.key()] = 0;
        }
        self.occurs.clear();
        self.known.clear();
    }

    /// Takes in the state of a hand of a group, and gives its number.
    pub(super) fn set_out(&mut self, state: S, group: u16) -> u16 {
        let key = state.key();
        if key >= self.numbers.len() {
            self.numbers.resize(key + 1, 0);
        }
        if self.numbers[key] == 0 {
            self.states.push(state);
            self.numbers[key] = self.states.len() as u16;
            self.known.push(0);
        }
        let number = self.numbers[key] - 1;
        let known = &mut self.known[usize::from(number)];
        if *known >> group & 1 == 0 {
            *known |= 1 << group;
            self.occurs.push((number, group));
        }
        number
    }
}

/// One part of the hands that are gone to.
#[derive(Debug)]
pub(super) struct Rows<S> {
    /// The states that have been gone to.
    asked: Vec<S>,
    /// The row of each of them by its key.
    rows: Vec<Row>,
}

impl<S> Default for Rows<S> {
    fn default() -> Self {
        Self { asked: Vec::new(), rows: Vec::new() }
    }
}

impl<S: State> Rows<S> {
    /// Forgets every state.
    pub(super) fn clear(&mut self) {
        for state in self.asked.drain(..) {
            self.rows[state.key()] = Row::NONE;
        }
    }

    /// The row of a state that is gone to; `price` says what it costs to get there from another, and what that says of
    /// the least that the whole move costs.
    #[inline]
    pub(super) fn of(
        &mut self,
        next: S,
        from: &Part<S>,
        prices: &mut Prices,
        price: impl Fn(S, S) -> (Price, i32),
    ) -> Row {
        match self.rows.get(next.key()) {
            Some(row) if *row != Row::NONE => *row,
            _ => self.add(next, from, prices, price),
        }
    }

    fn add(
        &mut self,
        next: S,
        from: &Part<S>,
        prices: &mut Prices,
        price: impl Fn(S, S) -> (Price, i32),
    ) -> Row {
        let row = Row { prices: prices.all.len() as u32, least: prices.least.len() as u32 };
        prices.bounds.clear();
        for old in &from.states {
            let (price, bound) = price(*old, next);
            prices.all.push(price);
            prices.bounds.push(bound);
        }
        let mut least = [NOWHERE; GROUPS];
        for (state, group) in &from.occurs {
            let least = &mut least[usize::from(*group)];
            *least = (*least).min(prices.bounds[usize::from(*state)]);
        }
        prices.least.push(least);
        let key = next.key();
        if key >= self.rows.len() {
            self.rows.resize(key + 1, Row::NONE);
        }
        self.asked.push(next);
        self.rows[key] = row;
        row
    }
}
