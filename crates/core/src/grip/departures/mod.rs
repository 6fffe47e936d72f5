//! Moves from all the hands of one moment, taken apart.
//!
//! What a move costs is the sum of what every digit does, what happens on every string, how the top voice is led, and
//! what concerns the hand as a whole ([`each_change`](super::moves::each_change)). The hands of a moment share most of
//! their digits and strings: each pair of one before and one after is priced once, and a move is the sum of a dozen
//! entries of tables. The least entries of hands that are alike say what no move from any of them costs less than.
//!
//! The hands are taken apart once ([`Departures`]); what the parts of moves cost is worked out as it is asked for
//! ([`Fares`]), by everybody who asks for himself.

mod groups;
mod part;

use std::sync::{Mutex, OnceLock, PoisonError};

use super::grip::StringSet;
use super::hand_at::{Digit, HandAt, Lead, Whole};
use super::hold::Hold;
use super::moves::{Found, digit_goes_on, hand_goes_on, leads, string_goes_on};
use super::pace::{Pace, Total};
use super::weights::Table;
use crate::hand::Finger;
use crate::neck::{Fret, MAX_STRINGS};
pub use groups::ByGroup;
use groups::{Groups, Least};
use part::{Part, Price, Prices, Row, Rows};

/// The digits of a hand.
const DIGITS: usize = 5;
/// The parts of a move that are priced each by itself: every digit, every string, and the top voice.
const PARTS: usize = DIGITS + MAX_STRINGS + 1;
/// The number of the top voice among them.
const LEAD: usize = DIGITS + MAX_STRINGS;

/// The hands that moves come from.
#[derive(Debug, Default)]
pub struct Departures {
    hands: Vec<HandAt>,
    groups: Groups,
    /// The same hands taken apart, once somebody asks.
    apart: OnceLock<Apart>,
    /// What was taken apart last, to be used again.
    spare: Mutex<Apart>,
}

/// Hands taken apart.
#[derive(Debug, Default)]
struct Apart {
    hands: Vec<States>,
    /// The strings that sound in any of the hands.
    sounding: StringSet,
    digits: [Part<Digit>; DIGITS],
    strings: [Part<Option<Hold>>; MAX_STRINGS],
    lead: Part<Option<Lead>>,
}

/// One hand taken apart, side by side in memory, since a search jumps from one to another.
#[derive(Clone, Copy, Debug)]
struct States {
    /// The number of the state that each part of it is in.
    parts: [u16; PARTS],
    whole: Whole,
}

impl Apart {
    fn clear(&mut self) {
        self.hands.clear();
        self.sounding = StringSet::EMPTY;
        self.digits.iter_mut().for_each(Part::clear);
        self.strings.iter_mut().for_each(Part::clear);
        self.lead.clear();
    }

    /// Takes hands apart, which uses the room of others.
    fn of(hands: &[HandAt], groups: &Groups, mut apart: Self) -> Self {
        apart.clear();
        for hand in hands {
            apart.sounding = apart.sounding.union(hand.sounding);
        }
        for (hand, group) in hands.iter().zip(groups.of_hands()) {
            let mut parts = [0; PARTS];
            for (digit, part) in apart.digits.iter_mut().enumerate() {
                parts[digit] = part.set_out(hand.digit(digit), *group);
            }
            for string in apart.sounding.each() {
                let part = &mut apart.strings[string.index()];
                parts[DIGITS + string.index()] = part.set_out(hand.grip.hold(string), *group);
            }
            parts[LEAD] = apart.lead.set_out(hand.lead, *group);
            apart.hands.push(States { parts, whole: hand.whole });
        }
        apart
    }
}

/// A hand that moves go to, and where its parts are priced.
#[derive(Clone, Copy, Debug)]
pub struct Towards<'a> {
    hand: &'a HandAt,
    from: &'a Apart,
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
        self.hands.clear();
        self.hands.extend(hands);
        self.groups.gather(&self.hands);
        if let Some(apart) = self.apart.take() {
            self.spare = Mutex::new(apart);
        }
    }

    fn apart(&self) -> &Apart {
        self.apart.get_or_init(|| {
            let spare = std::mem::take(&mut *self.spare.lock().unwrap_or_else(PoisonError::into_inner));
            Apart::of(&self.hands, &self.groups, spare)
        })
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
}

/// What the parts of moves from some hands cost at one pace, as far as it has been asked for.
#[derive(Debug, Default)]
pub struct Fares {
    digits: [Rows<Digit>; DIGITS],
    strings: [Rows<Option<Hold>>; MAX_STRINGS],
    lead: Rows<Option<Lead>>,
    prices: Prices,
    least: Least,
}

impl Fares {
    /// Forgets everything: before moves from other hands, and before another pace.
    pub fn clear(&mut self) {
        self.digits.iter_mut().for_each(Rows::clear);
        self.strings.iter_mut().for_each(Rows::clear);
        self.lead.clear();
        self.prices.clear();
        self.least.clear();
    }

    /// Gets ready for moves to a hand.
    pub fn towards<'a>(&mut self, from: &'a Departures, pace: &Pace, hand: &'a HandAt) -> Towards<'a> {
        let from = from.apart();
        let mut towards = Towards { hand, from, parts: [(0, Row::NONE); PARTS], count: 0 };
        let prices = &mut self.prices;
        for (digit, (rows, part)) in self.digits.iter_mut().zip(&from.digits).enumerate() {
            let row = rows.of(hand.digit(digit), part, prices, |old, new| {
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
        for string in from.sounding.intersection(hand.sounding).each() {
            let (rows, part) = (&mut self.strings[string.index()], &from.strings[string.index()]);
            let row = rows.of(hand.grip.hold(string), part, prices, |old, new| {
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
            let row = self.lead.of(Some(lead), &from.lead, prices, |old, new| {
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
    pub fn total(&self, from: usize, pace: &Pace, towards: &Towards<'_>) -> i32 {
        let from = &towards.from.hands[from];
        let mut sum = Price::default();
        for (part, row) in towards.parts() {
            sum += self.prices.of(*row, from.parts[usize::from(*part) % PARTS]);
        }
        let mut whole = Total::new(pace);
        hand_goes_on(from.whole, towards.hand, sum.found(), &mut whole);
        sum.points() + whole.points()
    }

    /// What no move from a hand of each group costs less than, where the hands need not be taken apart for it: a bound
    /// that is sooner known and lower.
    pub fn least_of_any(&mut self, from: &Departures, pace: &Pace, hand: &HandAt) -> ByGroup {
        let parts = pace.least_of_parts(hand);
        self.least.of(&from.groups, pace, hand).map(|least| least + parts)
    }

    /// What no move from a hand of each group costs less than.
    pub fn least(&mut self, from: &Departures, pace: &Pace, towards: &Towards<'_>) -> ByGroup {
        let mut least = *self.least.of(&from.groups, pace, towards.hand);
        for (_, row) in towards.parts() {
            for (sum, price) in least.iter_mut().zip(self.prices.least(*row)) {
                *sum += price;
            }
        }
        least
    }
}
