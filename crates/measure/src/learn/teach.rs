//! Learns weights from some lattices.
//!
//! Piece by piece, against the slope, every weight at its own pace (the adaptive gradient of Duchi, Hazan and Singer 2011), with a pull
//! towards what was set by hand: the stronger, the less the marks can say about a table. The mean over the second half
//! of the way is what was learned. The order is fixed, so that the same marks teach the same weights.

use handspan_core::grip::Weights;
use handspan_core::grip::weights::{Shown, Table};

use super::by_hand::BY_HAND;
use super::lattice::Lattice;
use super::sense::bring_back;
use super::slope::{Margin, slope};

/// How often every piece is gone through.
const EPOCHS: usize = 16;
/// How far a weight goes at first, in natural units.
const RATE: f64 = 0.3;
/// The pull towards the weights set by hand, a piece.
const PULL: f64 = 0.007;
/// So many times stronger for tables with many entries that each say little, and for what haste adds.
const PULL_DETAIL: f64 = 4.0;
const PULL_HASTE: f64 = 20.0;
/// By how much a route that contradicts a mark counts as cheaper than it is.
const MARGIN: Margin = Margin { finger: 5.0, open: 10.0, string: 2.0, taken: 0.3, taken_kept: 3.0 };
/// Tenths of a point, as weights are set by hand, in a natural unit.
const BY_HAND_UNIT: f64 = 20.0;
/// Points in a natural unit: ten points make a grip e times less likely to be printed, which a player notices.
const POINTS: f64 = 10.0;

/// What was learned, in natural units.
pub(super) struct Learned(Vec<f64>);

impl Learned {
    /// In whole points.
    pub(super) fn weights(&self) -> Weights {
        let points: Vec<i32> = self.0.iter().map(|weight| libm::round(weight * POINTS) as i32).collect();
        Weights::from_points(&points)
    }
}

/// The weights as they were set by hand.
pub(super) fn by_hand() -> Weights {
    Weights::of(&BY_HAND)
}

/// Learns from the marks of these lattices.
pub(super) fn learn(lattices: &[&Lattice]) -> Learned {
    let hand: Vec<f64> = by_hand().points().iter().map(|tenths| f64::from(*tenths) / BY_HAND_UNIT).collect();
    let pull = pulls();
    let mut theta = hand.clone();
    let mut squares = vec![1.0; theta.len()];
    let mut sum = vec![0.0; theta.len()];
    for step in 0..EPOCHS * lattices.len() {
        let mut slopes = vec![0.0; theta.len()];
        slope(lattices[shuffled(step, lattices.len())], &theta, &MARGIN, &mut slopes);
        for (slot, slope) in slopes.into_iter().enumerate() {
            let slope = slope + pull[slot] * (theta[slot] - hand[slot]);
            squares[slot] += slope * slope;
            theta[slot] -= RATE * slope / squares[slot].sqrt();
        }
        bring_back(&mut theta, &hand);
        if step * 2 >= EPOCHS * lattices.len() {
            sum.iter_mut().zip(&theta).for_each(|(sum, weight)| *sum += weight);
        }
    }
    let count = (EPOCHS * lattices.len()).div_ceil(2) as f64;
    let mut mean: Vec<f64> = sum.into_iter().map(|sum| sum / count).collect();
    bring_back(&mut mean, &hand);
    Learned(mean)
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
