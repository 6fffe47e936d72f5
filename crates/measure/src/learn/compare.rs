//! How sure a figure is: the bootstrap over works.
//!
//! Works are drawn with replacement, as many as there are, again and again; between the 2.5th and the 97.5th percentile
//! of what comes out lies the interval (Efron 1979). Marks of one work stand or fall together, so works are drawn and
//! not marks.

use serde::Serialize;

use super::chance::Chance;

/// How often works are drawn.
const DRAWS: usize = 10_000;

/// Marks and those that agree, of one work.
pub(super) type Counts = (usize, usize);

/// A share in percent, with its interval.
#[derive(Clone, Copy, PartialEq, Debug, Serialize)]
pub(super) struct Share {
    pub(super) marks: usize,
    pub(super) percent: f64,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// The share of marks that agree.
pub(super) fn share(works: &[Counts]) -> Share {
    let of = |drawn: &mut dyn Iterator<Item = usize>| {
        let (marks, agree) = drawn.fold((0, 0), |(m, a), work| (m + works[work].0, a + works[work].1));
        percent(agree as f64, marks)
    };
    measured(works, of)
}

/// By how many points in a hundred the first agree more often than the second, on the same marks.
pub(super) fn difference(first: &[Counts], second: &[Counts]) -> Share {
    let of = |drawn: &mut dyn Iterator<Item = usize>| {
        let sums = drawn.fold((0, 0.0), |(marks, more), work| {
            (marks + first[work].0, more + first[work].1 as f64 - second[work].1 as f64)
        });
        percent(sums.1, sums.0)
    };
    measured(first, of)
}

fn percent(of: f64, marks: usize) -> f64 {
    100.0 * of / marks.max(1) as f64
}

fn measured(works: &[Counts], of: impl Fn(&mut dyn Iterator<Item = usize>) -> f64) -> Share {
    let mut chance = Chance::new(0);
    let count = works.len();
    let mut draws: Vec<f64> = (0..DRAWS).map(|_| of(&mut (0..count).map(|_| chance.below(count)))).collect();
    draws.sort_unstable_by(f64::total_cmp);
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    let at = |thousandth: usize| tenth(draws[DRAWS * thousandth / 1000]);
    let marks = works.iter().map(|(marks, _)| marks).sum();
    Share { marks, percent: tenth(of(&mut (0..count))), from: at(25), to: at(975) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_lies_in_its_interval_and_a_sure_difference_has_none() {
        let works = [(10, 9), (20, 10), (30, 21)];
        let share = share(&works);
        assert!((share.percent - 66.7).abs() < 1e-9 && share.from < 66.7 && share.to > 66.7, "{share:?}");
        let fewer = works.map(|(marks, agree)| (marks, agree - marks / 10));
        let more = difference(&works, &fewer);
        assert!(
            [more.percent, more.from, more.to].iter().all(|points| (points - 10.0).abs() < 1e-9),
            "{more:?}"
        );
    }
}
