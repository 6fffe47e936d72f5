//! Tuplets: spans of a bar whose notes fall between the halves of halves.

use std::collections::BTreeSet;

use handspan_core::time::{Metre, Ticks};

/// So many notes in the time of so many.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Tuplet {
    /// When it begins, from the bar line.
    pub start: Ticks,
    /// How long it lasts.
    pub length: Ticks,
    /// The figure that is printed: so many notes …
    pub actual: u8,
    /// … in the time of so many.
    pub normal: u8,
}

impl Tuplet {
    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.start + self.length
    }

    /// Whether a time lies in it.
    pub fn holds(&self, at: Ticks) -> bool {
        self.start <= at && at < self.end()
    }

    /// A length inside it as it is written.
    pub fn written(&self, length: Ticks) -> Ticks {
        Ticks::new(length.count() * i64::from(self.actual) / i64::from(self.normal))
    }
}

/// The finest plain grid: a sixty-fourth note.
const PLAIN: i64 = Ticks::PER_QUARTER / 16;

/// The tuplets that the boundaries between the notes of a bar ask for, in order.
pub(crate) fn tuplets(boundaries: &BTreeSet<Ticks>, metre: Metre) -> Vec<Tuplet> {
    let mut found: Vec<Tuplet> = Vec::new();
    for at in boundaries {
        let covered = found.iter().any(|t| t.holds(*at));
        if at.count() % PLAIN != 0
            && !covered
            && let Some(tuplet) = around(*at, boundaries, metre)
        {
            found.push(tuplet);
        }
    }
    found
}

/// The smallest span around a boundary that its notes divide evenly; one whose ends are boundaries is preferred, which for
/// a whole bar counts where its parts are not halved, then one that begins with a boundary.
fn around(at: Ticks, boundaries: &BTreeSet<Ticks>, metre: Metre) -> Option<Tuplet> {
    let beat = metre.beat().count();
    let spans = [beat / 2, beat, beat * 2, metre.bar().count()];
    let candidates = spans.into_iter().filter(|span| *span > 0).flat_map(|span| {
        let start = Ticks::new(at.count().div_euclid(span) * span);
        [(3, 2), (5, 4), (7, 4)].map(|(actual, normal)| Tuplet {
            start,
            length: Ticks::new(span),
            actual,
            normal,
        })
    });
    let fitting: Vec<Tuplet> = candidates.filter(|t| fits(t, boundaries)).collect();
    let begins = |t: &&Tuplet| boundaries.contains(&t.start);
    let is_whole = |t: &Tuplet| {
        let part = t.length.count() / i64::from(t.actual);
        boundaries.range(t.start..t.end()).all(|b| (*b - t.start).count() % part == 0)
    };
    let is_closed = |t: &&Tuplet| {
        begins(t) && boundaries.contains(&t.end()) && (t.length.count() <= beat * 2 || is_whole(t))
    };
    let some = fitting.iter().find(is_closed).or_else(|| fitting.iter().find(begins));
    some.or_else(|| fitting.first()).copied()
}

fn fits(tuplet: &Tuplet, boundaries: &BTreeSet<Ticks>) -> bool {
    let part = tuplet.length.count() / i64::from(tuplet.actual);
    // Notes of a tuplet may be halved once more.
    let grid = if part % 2 == 0 { part / 2 } else { part };
    let divides = tuplet.length.count() % i64::from(tuplet.actual) == 0;
    let inside = boundaries.range(tuplet.start..tuplet.end());
    divides && grid > 0 && inside.into_iter().all(|b| (*b - tuplet.start).count() % grid == 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(parts: &[(i64, i64)], metre: Metre) -> Vec<(f64, f64, u8)> {
        let boundaries = parts.iter().map(|(n, d)| Ticks::from_quarter_parts(*n, *d).unwrap()).collect();
        tuplets(&boundaries, metre)
            .into_iter()
            .map(|t| (t.start.quarters(), t.length.quarters(), t.actual))
            .collect()
    }

    #[test]
    fn triplets_of_eighths_and_of_quarters() {
        let four = Metre::COMMON;
        assert_eq!(found(&[(0, 1), (1, 3), (2, 3), (1, 1)], four), [(0.0, 1.0, 3)]);
        assert_eq!(found(&[(0, 1), (2, 3), (1, 1), (2, 1)], four), [(0.0, 1.0, 3)]);
        assert_eq!(found(&[(0, 1), (2, 3), (4, 3), (2, 1)], four), [(0.0, 2.0, 3)]);
        assert_eq!(found(&[(2, 1), (11, 5), (12, 5), (3, 1)], four), [(2.0, 1.0, 5)]);
    }

    #[test]
    fn a_note_before_silence_takes_a_tuplet_of_its_own_beat() {
        assert_eq!(found(&[(0, 1), (2, 3), (4, 1)], Metre::COMMON), [(0.0, 1.0, 3)]);
        assert_eq!(found(&[(0, 1), (4, 3), (8, 3), (4, 1)], Metre::COMMON), [(0.0, 4.0, 3)]);
    }

    #[test]
    fn plain_rhythm_has_none() {
        let six_eight = Metre::try_new(6, 8).unwrap();
        assert_eq!(found(&[(0, 1), (1, 2), (3, 4), (3, 2)], six_eight), []);
    }
}
