//! Learns weights from some lattices.
//!
//! Piece by piece, against the slope, every weight at its own pace (the adaptive gradient of Duchi, Hazan and Singer
//! 2011), with a pull towards what was set by hand: the stronger, the less the marks can say about a table. The mean
//! over the second half of the way is what one draw of chance learns, and the mean of several draws is what was learned
//! (bagging, Breiman 1996: weights are linear, so that their mean judges as the draws do together). Between two draws
//! lie a point of fingers and three printed open strings of two hundred; their mean has half a point more of fingers
//! than a draw has. Order and chance are fixed, so that the same marks teach the same weights.
//!
//! Three things keep a weight from learning what holds for a few pieces alone. Entries that say alike of other fingers
//! share a part ([`super::kin`]). In every step some detailed entries are left out by chance, so that no entry leans on
//! another (Wager, Wang and Liang 2013: to leave out features is to pull the rare ones). And a mark counts the less, the
//! more marks its composer has. Together they brought a point or more of fingers, by composer and by work.
//!
//! Printed open strings are a lesson by themselves besides the one of all marks: one or two of two hundred came back,
//! where a wider margin in the common lesson cost fingers. Counted in full it kept them in every single draw, but cost
//! up to a point of fingers by work; asked while all other marks are kept, it cost a point or two.
//!
//! Compared besides, in four draws each: the square root of a composer's marks instead of the fourth, which brought a
//! point by composer and lost one by work, and two open strings; hands that travel free never dearer than gripping
//! ones, and open strings that never cost anything, which made no difference beyond chance. In one draw each: shared
//! parts of strings and zones, which lost open strings; a stronger pull, narrower and wider margins of fingers, a credit
//! for every open string, all of which cost agreement.

use std::collections::BTreeMap;

use handspan_core::grip::Weights;
use handspan_core::grip::weights::{Shown, Table};

use super::by_hand::BY_HAND;
use super::chance::Chance;
use super::kin::families;
use super::lattice::Lattice;
use super::sense::bring_back;
use super::slope::{Lesson, Powers, slope};

/// How often all is learned, with other entries left out and the pieces in another order.
pub(super) const DRAWS: usize = 4;
/// How often every piece is gone through.
const EPOCHS: usize = 8;
/// How far a weight goes at first, in natural units.
const RATE: f64 = 0.3;
/// The pull towards the weights set by hand, a piece.
const PULL: f64 = 0.007;
/// So many times stronger for tables with many entries that each say little, and for what haste adds.
const PULL_DETAIL: f64 = 4.0;
const PULL_HASTE: f64 = 20.0;
/// So many in a hundred of the detailed entries are left out in a step.
const DROPPED: usize = 30;
/// How much less likely a route is that contradicts a mark which is to be kept.
const KEPT: f64 = -14.0;
/// What a route may break for nothing.
const ANY: Powers = Powers { finger: 0.0, open: 0.0, string: 0.0, taken: 0.0 };
/// All marks, by such margins that being right by a hair is not enough; and the printed open strings of a piece by
/// themselves, whatever the fingers are: they are so few that they count for little among all others.
const LESSONS: [Lesson; 2] = [
    Lesson {
        kept: Powers { finger: KEPT, open: KEPT, string: KEPT, taken: -3.0 },
        free: Powers { finger: 5.0, open: 12.0, string: 2.0, taken: 0.6 },
        share: 1.0,
    },
    Lesson { kept: Powers { open: KEPT, ..ANY }, free: Powers { open: 12.0, ..ANY }, share: 0.75 },
];
/// Tenths of a point, as weights are set by hand, in a natural unit.
const BY_HAND_UNIT: f64 = 20.0;
/// Points in a natural unit: ten points make a grip e times less likely to be printed, which a player notices.
const POINTS: f64 = 10.0;

/// The weights as they were set by hand.
pub(super) fn by_hand() -> Weights {
    Weights::of(&BY_HAND)
}

/// Learns from the marks of these lattices in so many draws of chance, each in a thread of its own.
pub(super) fn learn(lattices: &[Lattice], draws: usize) -> Weights {
    let mut learned = vec![Vec::new(); draws];
    std::thread::scope(|scope| {
        for (draw, learned) in learned.iter_mut().enumerate() {
            scope.spawn(move || *learned = drawn(lattices, draw));
        }
    });
    let points = |slot: usize| {
        let sum: f64 = learned.iter().map(|weights| weights[slot]).sum();
        libm::round(sum / draws as f64 * POINTS) as i32
    };
    Weights::from_points(&(0..Weights::ENTRIES).map(points).collect::<Vec<_>>())
}

/// What one draw of chance learns, in natural units.
fn drawn(lattices: &[Lattice], draw: usize) -> Vec<f64> {
    let mut learner = Learner::new(draw);
    let shares = shares(lattices);
    let steps = EPOCHS * lattices.len();
    let mut sum = vec![0.0; Weights::ENTRIES];
    for step in 0..steps {
        let piece = shuffled(draw * steps + step, lattices.len());
        learner.step(&lattices[piece], shares[piece]);
        if step * 2 >= steps {
            sum.iter_mut().zip(&learner.theta).for_each(|(sum, weight)| *sum += weight);
        }
    }
    let count = steps.div_ceil(2) as f64;
    let mut mean: Vec<f64> = sum.into_iter().map(|sum| sum / count).collect();
    bring_back(&mut mean, &learner.hand);
    mean
}

/// How much each piece counts, one on the mean of all marks: the fourth root of its composer's marks divides it.
fn shares(lattices: &[Lattice]) -> Vec<f64> {
    let mut composers: BTreeMap<&str, f64> = BTreeMap::new();
    for lattice in lattices {
        *composers.entry(&lattice.composer).or_default() += lattice.marks() as f64;
    }
    let share = |lattice: &Lattice| 1.0 / composers[lattice.composer.as_str()].max(1.0).sqrt().sqrt();
    let all: f64 = composers.values().sum();
    let mean: f64 = lattices.iter().map(|lattice| lattice.marks() as f64 * share(lattice)).sum::<f64>() / all;
    lattices.iter().map(|lattice| share(lattice) / mean).collect()
}

/// Weights on their way.
struct Learner {
    /// The weights, in natural units.
    theta: Vec<f64>,
    /// The part of each weight that it does not share with its kin.
    own: Vec<f64>,
    /// The part that each family shares.
    shared: Vec<f64>,
    families: Vec<Vec<usize>>,
    hand: Vec<f64>,
    pulls: Vec<f64>,
    dropped: Vec<bool>,
    own_pace: Pace,
    shared_pace: Pace,
    chance: Chance,
}

impl Learner {
    fn new(draw: usize) -> Self {
        let hand: Vec<f64> =
            by_hand().points().iter().map(|tenths| f64::from(*tenths) / BY_HAND_UNIT).collect();
        let families = families();
        Self {
            theta: hand.clone(),
            own: hand.clone(),
            shared: vec![0.0; families.len()],
            own_pace: Pace::new(hand.len()),
            shared_pace: Pace::new(families.len()),
            families,
            hand,
            pulls: pulls(),
            dropped: dropped(),
            chance: Chance::new(draw as u64),
        }
    }

    /// Goes down the slope of one piece, which counts `share`.
    fn step(&mut self, lattice: &Lattice, share: f64) {
        let kept = self.kept();
        let mut slopes = vec![0.0; self.theta.len()];
        let theta: Vec<f64> = self.theta.iter().zip(&kept).map(|(weight, kept)| weight * kept).collect();
        slope(lattice, &theta, &LESSONS, &mut slopes);
        slopes.iter_mut().zip(&kept).for_each(|(slope, kept)| *slope *= kept * share);
        for (number, family) in self.families.iter().enumerate() {
            let all: f64 = family.iter().map(|slot| slopes[*slot]).sum();
            let step = self.shared_pace.step(number, all + PULL * self.shared[number]);
            self.shared[number] -= step;
            for slot in family {
                self.theta[*slot] -= step;
            }
        }
        for (slot, slope) in slopes.into_iter().enumerate() {
            let pulled = self.pulls[slot] * (self.own[slot] - self.hand[slot]);
            let step = self.own_pace.step(slot, slope + pulled);
            self.theta[slot] -= step;
            self.own[slot] -= step;
        }
        let before = self.theta.clone();
        bring_back(&mut self.theta, &self.hand);
        for ((own, after), before) in self.own.iter_mut().zip(&self.theta).zip(before) {
            *own += after - before;
        }
    }

    /// What is left of every weight in one step: nothing of some by chance, so much more of the others.
    fn kept(&mut self) -> Vec<f64> {
        let chance = &mut self.chance;
        let kept = |dropped: &bool| match *dropped && chance.below(100) < DROPPED {
            true => 0.0,
            false if *dropped => 100.0 / (100 - DROPPED) as f64,
            false => 1.0,
        };
        self.dropped.iter().map(kept).collect()
    }
}

/// How far each number goes: the less, the steeper its slopes have been (Duchi, Hazan and Singer 2011).
struct Pace(Vec<f64>);

impl Pace {
    fn new(count: usize) -> Self {
        Self(vec![1.0; count])
    }

    fn step(&mut self, number: usize, slope: f64) -> f64 {
        self.0[number] += slope * slope;
        RATE * slope / self.0[number].sqrt()
    }
}

/// The piece of a step: every epoch takes all of them, in an order of its own.
const fn shuffled(step: usize, count: usize) -> usize {
    let (epoch, place) = (step / count, step % count);
    // 71 is prime and greater than most counts; where it divides the count the order is the plain one.
    let stride = if count.is_multiple_of(71) { 1 } else { 71 };
    (place * stride + epoch * 13) % count
}

/// The pull of every weight.
fn pulls() -> Vec<f64> {
    let mut pulls = vec![PULL; Weights::ENTRIES];
    for table in Table::ALL {
        let detailed = matches!(
            table,
            Table::Slant | Table::FingerString | Table::Together | Table::Alone | Table::Leads
        );
        let moves = matches!(table.shown(), Shown::Move(_));
        for entry in 0..table.len() {
            if detailed {
                pulls[table.slot(entry)] *= PULL_DETAIL;
            }
            if moves && entry >= table.len() / 2 {
                pulls[table.slot(entry)] *= PULL_HASTE;
            }
        }
    }
    pulls
}

/// The entries that are left out now and then: those of detailed tables, as far as haste has no part in them.
fn dropped() -> Vec<bool> {
    let mut dropped = vec![false; Weights::ENTRIES];
    for table in Table::ALL {
        let detailed = matches!(
            table,
            Table::Slant
                | Table::FingerString
                | Table::Together
                | Table::Alone
                | Table::Leads
                | Table::Apart
                | Table::Zone
        );
        let entries = if table == Table::Leads { table.len() / 2 } else { table.len() };
        for entry in 0..entries {
            dropped[table.slot(entry)] = detailed;
        }
    }
    dropped
}
