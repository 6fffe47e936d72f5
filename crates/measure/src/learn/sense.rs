//! What a hand knows without being taught: strain is never a gain, more of it is never easier, haste never helps.
//!
//! Printed fingerings are few, and some of what wears a hand out is rarely printed at all. After every step of learning
//! the weights are brought back to what makes sense.

use handspan_core::grip::weights::Table;

/// How far weights may go.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Sense {
    /// Whatever is learned.
    Free,
    /// Never a gain.
    NoGain,
    /// Never a gain, and never less from one entry to the next.
    Rising,
    /// As it was set by hand: the repertoire cannot teach it.
    Fixed,
    /// No weight at all: haste makes no difference here.
    Nothing,
}

const fn of_grip(table: Table) -> Sense {
    match table {
        Table::Thumb | Table::Body | Table::Crossed => Sense::Fixed,
        Table::Stretch | Table::Strain | Table::SmallBarre | Table::Reversed | Table::Skipped => {
            Sense::NoGain
        }
        Table::Barre | Table::Position | Table::Shape => Sense::Rising,
        _ => Sense::Free,
    }
}

/// The sense of what moves cost at leisure, and of what haste adds.
const fn of_move(table: Table) -> Option<(Sense, Sense)> {
    Some(match table {
        Table::ShiftsPivot | Table::Shifts | Table::ShiftsFree => (Sense::Rising, Sense::Rising),
        Table::BarreLands | Table::Opens => (Sense::NoGain, Sense::NoGain),
        Table::Slides | Table::Hops | Table::Jumps | Table::Lands | Table::Hinges | Table::Replaces => {
            (Sense::Free, Sense::NoGain)
        }
        Table::Stays | Table::Leaves | Table::Follows | Table::Leads | Table::Repeats => {
            (Sense::Free, Sense::Nothing)
        }
        // A way back is no gift: what it gains stands in the positions.
        Table::Returns => (Sense::NoGain, Sense::Nothing),
        Table::Rings => (Sense::Free, Sense::Nothing),
        _ => return None,
    })
}

/// Brings weights back to what makes sense; `by_hand` holds what is not learned.
pub(super) fn bring_back(theta: &mut [f64], by_hand: &[f64]) {
    for table in Table::ALL {
        let slots = table.slot(0)..table.slot(0) + table.len();
        let (theta, by_hand) = (&mut theta[slots.clone()], &by_hand[slots]);
        if let Some((leisure, hurry)) = of_move(table) {
            let half = table.len() / 2;
            bring(leisure, &mut theta[..half], &by_hand[..half]);
            bring(hurry, &mut theta[half..], &by_hand[half..]);
        } else {
            bring(of_grip(table), theta, by_hand);
        }
    }
}

fn bring(sense: Sense, theta: &mut [f64], by_hand: &[f64]) {
    match sense {
        Sense::Free => {}
        Sense::NoGain => never_below_nothing(theta),
        Sense::Rising => {
            never_below_nothing(theta);
            rise(theta);
        }
        Sense::Fixed => theta.copy_from_slice(by_hand),
        Sense::Nothing => theta.fill(0.0),
    }
}

fn never_below_nothing(theta: &mut [f64]) {
    for weight in theta {
        *weight = weight.max(0.0);
    }
}

/// The nearest values that never fall: neighbours that do are pooled (Ayer, Brunk, Ewing, Reid and Silverman 1955).
fn rise(values: &mut [f64]) {
    let mut pools: Vec<(f64, usize)> = Vec::with_capacity(values.len());
    for value in values.iter() {
        let mut pool = (*value, 1);
        while let Some((mean, count)) = pools.last().copied().filter(|(mean, _)| *mean > pool.0) {
            let all = count + pool.1;
            pool = ((mean * count as f64 + pool.0 * pool.1 as f64) / all as f64, all);
            pools.pop();
        }
        pools.push(pool);
    }
    let risen = pools.iter().flat_map(|(mean, count)| std::iter::repeat_n(*mean, *count));
    values.iter_mut().zip(risen).for_each(|(value, risen)| *value = risen);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_falls_is_pooled() {
        let mut values = [1.0, 3.0, 2.0, 2.0, 5.0];
        rise(&mut values);
        let expected = [1.0, 7.0 / 3.0, 7.0 / 3.0, 7.0 / 3.0, 5.0];
        assert!(values.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{values:?}");
    }

    #[test]
    fn strain_is_never_a_gain_and_the_thumb_is_not_learned() {
        let by_hand = vec![4.0; handspan_core::grip::Weights::ENTRIES];
        let mut theta = vec![-1.0; by_hand.len()];
        bring_back(&mut theta, &by_hand);
        let of = |table: Table| theta[table.slot(0)];
        assert!(of(Table::Stretch).abs() < 1e-9 && of(Table::Shifts).abs() < 1e-9);
        assert!((of(Table::Thumb) - 4.0).abs() < 1e-9);
        assert!((of(Table::Finger) + 1.0).abs() < 1e-9);
        assert!(theta[Table::Stays.slot(5)].abs() < 1e-9);
    }
}
