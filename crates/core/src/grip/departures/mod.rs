//! Moves from all the hands of one moment, taken apart.
//!
//! What a move costs is the sum of what every digit does, what happens on every string, how the top voice is led, and
//! what concerns the hand as a whole ([`each_change`](super::moves::each_change)). The hands of a moment share most of
//! their digits and strings: each pair of one before and one after is priced once, and a move is the sum of a dozen
//! entries of tables. The least entries of hands that are alike say what no move from any of them costs less than.

mod groups;
mod part;

use super::grip::StringSet;
use super::hand_at::{Digit, HandAt, Lead, Whole};
use super::hold::Hold;
use super::moves::{Found, digit_goes_on, hand_goes_on, leads, string_goes_on};
use super::pace::{Pace, Total};
use super::weights::Table;
use crate::hand::Finger;
use crate::neck::{Fret, MAX_STRINGS};
pub use groups::ByGroup;
use groups::Groups;
use part::{Part, Price, Prices, Row};

/// The digits of a hand.
const DIGITS: usize = 5;
/// The parts of a move that are priced each by itself: every digit, every string, and the top voice.
const PARTS: usize = DIGITS + MAX_STRINGS + 1;
/// The number of the top voice among them.
const LEAD: usize = DIGITS + MAX_STRINGS;

/// The hands that moves come from, and the parts of moves from them that have been priced so far.
#[derive(Debug, Default)]
pub struct Departures {
    hands: Vec<HandAt>,
    /// The same hands taken apart.
    apart: Vec<Apart>,
    groups: Groups,
    /// The strings that sound in any of the hands.
    sounding: StringSet,
    digits: [Part<Digit>; DIGITS],
    strings: [Part<Option<Hold>>; MAX_STRINGS],
    lead: Part<Option<Lead>>,
    prices: Prices,
}

/// A hand taken apart, side by side in memory, since a search jumps from one to another.
#[derive(Clone, Copy, Debug)]
struct Apart {
    /// The number of the state that each part of it is in.
    states: [u16; PARTS],
    whole: Whole,
}

/// A hand that moves go to, and where its parts are priced.
#[derive(Clone, Copy, Debug)]
pub struct Towards<'a> {
    hand: &'a HandAt,
    /// The parts that are priced, and their rows.
    parts: [(u8, Row); PARTS],
    count: usize,
}

impl Towards<'_> {
    fn add(&mut self, part: usize, row: Row) {
        self.parts[self.count] = (part as u8, row);
        self.count += 1;
    }

    fn parts(&self) -> &[(u8, Row)] {
        &self.parts[..self.count]
    }
}

impl Departures {
    /// Sets out from these hands; what was known of others is forgotten.
    pub fn set_out(&mut self, hands: impl IntoIterator<Item = HandAt>) {
        self.clear();
        self.hands.extend(hands);
        self.groups.gather(&self.hands);
    }

    /// Takes the hands apart.
    fn take_apart(&mut self) {
        for hand in &self.hands {
            self.sounding = self.sounding.union(hand.sounding);
        }
        self.prices.clear();
        for (hand, group) in self.hands.iter().zip(self.groups.of_hands()) {
            let mut states = [0; PARTS];
            for (digit, part) in self.digits.iter_mut().enumerate() {
                states[digit] = part.set_out(hand.digit(digit), *group);
            }
            for string in self.sounding.each() {
                let part = &mut self.strings[string.index()];
                states[DIGITS + string.index()] = part.set_out(hand.grip.hold(string), *group);
            }
            states[LEAD] = self.lead.set_out(hand.lead, *group);
            self.apart.push(Apart { states, whole: hand.whole });
        }
    }

    fn clear(&mut self) {
        self.hands.clear();
        self.apart.clear();
        self.sounding = StringSet::EMPTY;
        self.digits.iter_mut().for_each(Part::clear);
        self.strings.iter_mut().for_each(Part::clear);
        self.lead.clear();
    }

    /// The hands, in the order given.
    pub fn hands(&self) -> &[HandAt] {
        &self.hands
    }

    /// How many groups of hands there are.
    pub const fn groups(&self) -> usize {
        self.groups.len()
    }

    /// The number of the group that a hand belongs to.
    pub fn group(&self, hand: usize) -> usize {
        usize::from(self.groups.of_hands()[hand])
    }

    /// Where the hands of a group stand.
    pub fn position(&self, group: usize) -> Option<Fret> {
        self.groups.position(group)
    }

    /// Gets ready for moves to a hand.
    pub fn towards<'a>(&mut self, pace: &Pace, hand: &'a HandAt) -> Towards<'a> {
        if self.apart.len() < self.hands.len() {
            self.take_apart();
        }
        let mut towards = Towards { hand, parts: [(0, Row::NONE); PARTS], count: 0 };
        let prices = &mut self.prices;
        for (digit, part) in self.digits.iter_mut().enumerate() {
            let row = part.row(hand.digit(digit), prices, |old, new| {
                let price = Price::of(pace, |total| digit_goes_on(digit, old, new, total));
                // Where the first finger lays down a barre, the whole of the move pays for it.
                let barre = if digit == Finger::Index as usize && price.found().barres > 0 {
                    pace.price(Table::BarreLands, 0).max(0)
                } else {
                    0
                };
                (price, price.points() + barre)
            });
            towards.add(digit, row);
        }
        for string in self.sounding.intersection(hand.sounding).each() {
            let part = &mut self.strings[string.index()];
            let row = part.row(hand.grip.hold(string), prices, |old, new| {
                let price = Price::of(pace, |total| {
                    if let (Some(old), Some(new)) = (old, new) {
                        string_goes_on(old, new, total);
                    }
                    Found::default()
                });
                (price, price.points())
            });
            towards.add(DIGITS + string.index(), row);
        }
        if let Some(lead) = hand.lead {
            let row = self.lead.row(Some(lead), prices, |old, new| {
                let both = old.zip(new);
                let points = both.map_or(0, |(old, new)| pace.price(Table::Leads, leads(old, new)));
                (Price::plain(points), points)
            });
            towards.add(LEAD, row);
        }
        towards
    }

    /// What the move from a hand costs, all terms together.
    #[inline]
    pub fn total(&self, pace: &Pace, from: usize, towards: &Towards<'_>) -> i32 {
        let from = &self.apart[from];
        let mut sum = Price::default();
        for (part, row) in towards.parts() {
            sum += self.prices.of(*row, from.states[usize::from(*part) % PARTS]);
        }
        let mut whole = Total::new(pace);
        hand_goes_on(from.whole, towards.hand, sum.found(), &mut whole);
        sum.points() + whole.points()
    }

    /// What no move from a hand of each group costs less than.
    pub fn least(&mut self, pace: &Pace, towards: &Towards<'_>) -> ByGroup {
        let mut least = *self.groups.least(pace, towards.hand);
        for (_, row) in towards.parts() {
            for (sum, price) in least.iter_mut().zip(self.prices.least(*row)) {
                *sum += price;
            }
        }
        least
    }
}
