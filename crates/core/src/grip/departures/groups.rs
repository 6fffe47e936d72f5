//! Hands that are alike, and what concerns the whole of a hand in moves from them.

use super::super::hand_at::HandAt;
use super::super::moves::Way;
use super::super::pace::Pace;
use super::super::weights::Table;
use crate::neck::Fret;

/// Something for every group; there are no more groups than positions, and an even number is added up faster.
pub type ByGroup = [i32; GROUPS];

/// A power of two above the positions: no finger down yet, or a fret.
pub(super) const GROUPS: usize = (Fret::MAX as usize + 1).next_power_of_two();

/// The groups of the hands that are set out from.
#[derive(Debug, Default)]
pub(super) struct Groups {
    /// For every hand the number of its group.
    of_hands: Vec<u16>,
    all: Vec<Group>,
    /// The number of a group by its key, one more than that; 0 where there is none.
    numbers: Vec<u16>,
}

/// Hands that stand at one position.
#[derive(Debug)]
struct Group {
    key: usize,
    standing: u8,
    most_strain: u8,
    /// Whether an open string sounds in any of them.
    rings: bool,
}

/// The number of what hands of one group have in common.
fn key(hand: &HandAt) -> usize {
    usize::from(hand.whole.standing)
}

impl Groups {
    /// Sorts hands into groups.
    pub(super) fn gather(&mut self, hands: &[HandAt]) {
        self.of_hands.clear();
        for group in self.all.drain(..) {
            self.numbers[group.key] = 0;
        }
        for hand in hands {
            let number = self.number(hand);
            let group = &mut self.all[usize::from(number)];
            group.most_strain = group.most_strain.max(hand.whole.strain);
            group.rings |= hand.whole.rings;
            self.of_hands.push(number);
        }
    }

    fn number(&mut self, hand: &HandAt) -> u16 {
        let key = key(hand);
        if key >= self.numbers.len() {
            self.numbers.resize(key + 1, 0);
        }
        if self.numbers[key] == 0 {
            self.all.push(Group { key, standing: hand.whole.standing, most_strain: 0, rings: false });
            self.numbers[key] = self.all.len() as u16;
        }
        self.numbers[key] - 1
    }

    pub(super) const fn len(&self) -> usize {
        self.all.len()
    }

    pub(super) fn position(&self, group: usize) -> Option<Fret> {
        Fret::try_new(i32::from(self.all[group].standing)).filter(|fret| !fret.is_open())
    }

    pub(super) fn of_hands(&self) -> &[u16] {
        &self.of_hands
    }
}

/// What the whole of a move costs at the least, by group.
#[derive(Debug, Default)]
pub(super) struct Least {
    /// The number of a row by what a hand is gone to, one more than that; 0 where there is none.
    rows: Vec<u32>,
    asked: Vec<usize>,
    all: Vec<ByGroup>,
}

impl Least {
    /// Forgets everything.
    pub(super) fn clear(&mut self) {
        for asked in self.asked.drain(..) {
            self.rows[asked] = 0;
        }
        self.all.clear();
    }

    /// What the whole of a move to a hand costs at the least.
    pub(super) fn of(&mut self, groups: &Groups, pace: &Pace, next: &HandAt) -> &ByGroup {
        let to = next.whole;
        let asked = usize::from(to.standing) << 9 | usize::from(to.rings) << 8 | usize::from(to.strain);
        if asked >= self.rows.len() {
            self.rows.resize(asked + 1, 0);
        }
        if self.rows[asked] == 0 {
            self.asked.push(asked);
            let mut least = [0; GROUPS];
            for (least, group) in least.iter_mut().zip(&groups.all) {
                *least = group.least(pace, next);
            }
            self.all.push(least);
            self.rows[asked] = self.all.len() as u32;
        }
        &self.all[self.rows[asked] as usize - 1]
    }
}

impl Group {
    /// What the whole of a move costs at the least beyond what its digits and strings say.
    fn least(&self, pace: &Pace, next: &HandAt) -> i32 {
        // A barre that is laid down may be a gain under some weights.
        let barre = pace.price(Table::BarreLands, 0).min(pace.price(Table::BarreLands, 1)).min(0);
        let opens = pace.price(Table::Opens, 0);
        let strain = next.whole.strain;
        let certain = if opens > 0 { strain.saturating_sub(self.most_strain) } else { strain };
        barre + opens * i32::from(certain) + self.shift(pace, next)
    }

    fn shift(&self, pace: &Pace, next: &HandAt) -> i32 {
        let (here, there) = (self.standing, next.whole.standing);
        if here == 0 || there == 0 || here == there {
            return 0;
        }
        let ways = Way::ALL.map(|way| pace.shift(here, there, way));
        let rings = if self.rings && next.whole.rings { pace.price(Table::Rings, 0).min(0) } else { 0 };
        ways[0].min(ways[1]).min(ways[2]) + rings
    }
}
