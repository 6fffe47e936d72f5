//! Where a length has to be written as several values tied together, so that the beats can be seen.
//!
//! The rules are those of the notation handbooks (common practice): a value may begin on a beat and last as long as
//! it likes up to the middle of a bar of four; a value that begins between beats stays within its beat, but an undotted
//! one may lie across a beat (eighth, quarter, eighth). Rests carry dots in compound metres only.

use handspan_core::time::{Metre, Ticks};

use super::value::Value;
use super::voice::Kind;

/// The values of a length that begins so long after the bar line, each with its own beginning.
pub(crate) fn split(at: Ticks, length: Ticks, kind: Kind, metre: Metre) -> Vec<(Ticks, Value)> {
    let mut values = Vec::new();
    cut(at, length, (kind, metre), &mut values);
    values
}

fn cut(at: Ticks, length: Ticks, manner: (Kind, Metre), values: &mut Vec<(Ticks, Value)>) {
    let (kind, metre) = manner;
    let may_be = |value: &Value| value.dots == 0 || kind != Kind::Rest || metre.is_compound();
    if let Some(value) = Value::exact(length).filter(may_be)
        && reads_well(at, length, value, metre)
    {
        values.push((at, value));
    } else if let Some(line) = strongest_line(at, length, metre) {
        cut(at, line - at, manner, values);
        cut(line, at + length - line, manner, values);
    } else {
        let value = Value::within(length);
        values.push((at, value));
        let rest = length - value.length();
        // What is shorter than the shortest value cannot be written.
        if rest >= (Value { power: Value::SHORTEST, dots: 0 }).length() {
            cut(at + value.length(), rest, manner, values);
        }
    }
}

fn is_on(at: Ticks, grid: Ticks) -> bool {
    at.count().rem_euclid(grid.count()) == 0
}

fn crosses(at: Ticks, length: Ticks, grid: Ticks) -> bool {
    at.count().div_euclid(grid.count()) != (at + length - Ticks::new(1)).count().div_euclid(grid.count())
}

/// The middle of a bar of four beats, which has to be seen.
fn half_bar(metre: Metre) -> Option<Ticks> {
    let beats = metre.bar().count() / metre.beat().count();
    (beats == 4).then(|| metre.beat() * 2)
}

fn reads_well(at: Ticks, length: Ticks, value: Value, metre: Metre) -> bool {
    let beat = metre.beat();
    if !crosses(at, length, beat) {
        // Within a compound beat a value longer than a third begins with the beat or ends with it.
        let third = Ticks::new(beat.count() / 3);
        return !metre.is_compound() || length <= third || is_on(at, beat) || is_on(at + length, beat);
    }
    if let Some(half) = half_bar(metre)
        && crosses(at, length, half)
    {
        return is_on(at, half) || (value.dots == 0 && is_on(at, beat) && !metre.is_compound());
    }
    let across =
        value.dots == 0 && !metre.is_compound() && is_on(at, Ticks::new(beat.count() / 2)) && length <= beat;
    is_on(at, beat) && is_on(at + length, Ticks::new(beat.count() / 2)) || across
}

/// The most important line strictly inside a length: the middle of the bar, a beat, a part of a beat.
fn strongest_line(at: Ticks, length: Ticks, metre: Metre) -> Option<Ticks> {
    let beat = metre.beat().count();
    let parts =
        if metre.is_compound() { [beat / 3, beat / 6, beat / 12] } else { [beat / 2, beat / 4, beat / 8] };
    let grids = half_bar(metre).map(Ticks::count).into_iter().chain([beat]).chain(parts);
    grids.filter(|grid| *grid > 0).find_map(|grid| {
        let line = Ticks::new((at.count().div_euclid(grid) + 1) * grid);
        (line < at + length).then_some(line)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The values of a length in eighths: a list of lengths in eighths.
    fn eighths(at: i64, length: i64, metre: Metre) -> Vec<f64> {
        of_kind(Kind::Struck, at, length, metre)
    }

    fn of_kind(kind: Kind, at: i64, length: i64, metre: Metre) -> Vec<f64> {
        let eighth = Ticks::new(Ticks::PER_QUARTER / 2);
        split(eighth * at, eighth * length, kind, metre)
            .into_iter()
            .map(|(_, value)| value.length().quarters() * 2.0)
            .collect()
    }

    #[test]
    fn beats_can_be_seen() {
        let four = Metre::COMMON;
        assert_eq!(eighths(0, 8, four), [8.0]);
        assert_eq!(eighths(0, 6, four), [6.0]);
        assert_eq!(eighths(0, 5, four), [4.0, 1.0]);
        assert_eq!(eighths(1, 2, four), [2.0]);
        assert_eq!(eighths(3, 2, four), [1.0, 1.0]);
        assert_eq!(eighths(1, 3, four), [1.0, 2.0]);
        assert_eq!(eighths(2, 4, four), [4.0]);
        assert_eq!(eighths(7, 1, four), [1.0]);
    }

    #[test]
    fn rests_carry_no_dots_in_simple_metres() {
        let three_four = Metre::try_new(3, 4).unwrap();
        assert_eq!(of_kind(Kind::Rest, 0, 5, three_four), [2.0, 2.0, 1.0]);
        assert_eq!(of_kind(Kind::Rest, 2, 6, Metre::COMMON), [2.0, 4.0]);
        assert_eq!(of_kind(Kind::Rest, 0, 3, Metre::try_new(6, 8).unwrap()), [3.0]);
    }

    #[test]
    fn compound_beats_can_be_seen() {
        let six_eight = Metre::try_new(6, 8).unwrap();
        assert_eq!(eighths(0, 6, six_eight), [6.0]);
        assert_eq!(eighths(0, 3, six_eight), [3.0]);
        assert_eq!(eighths(1, 2, six_eight), [2.0]);
        assert_eq!(eighths(2, 2, six_eight), [1.0, 1.0]);
        assert_eq!(eighths(0, 5, six_eight), [3.0, 2.0]);
        assert_eq!(eighths(1, 4, six_eight), [2.0, 2.0]);
    }
}
