//! How long work takes.

use std::fs;
use std::sync::OnceLock;
use std::time::Instant;

/// What some work gives, and how many milliseconds of a processor it took.
///
/// Where the system tells how long the thread has run, time in which other programs had the processor does not count;
/// elsewhere the clock on the wall is read.
#[expect(clippy::disallowed_methods, reason = "measuring time is what this program is for")]
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let (begin, ran) = (Instant::now(), nanoseconds_run());
    let result = work();
    let on_the_wall = begin.elapsed().as_secs_f64() * 1000.0;
    let run = nanoseconds_run().zip(ran).map(|(after, before)| (after - before) as f64 / 1e6);
    (result, run.unwrap_or(on_the_wall))
}

/// How long this thread has run on a processor, as Linux tells it: the first number of the file.
fn nanoseconds_run() -> Option<u64> {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split_whitespace().next()?.parse().ok()
}

/// What some work gives, and how many milliseconds go by on the wall: work that is shared among threads.
#[expect(clippy::disallowed_methods, reason = "measuring time is what this program is for")]
pub(crate) fn waited<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let begin = Instant::now();
    let result = work();
    (result, begin.elapsed().as_secs_f64() * 1000.0)
}

/// What some work gives that tells of what it has found on the way, how many milliseconds go by on the wall until it
/// first does, and how many until its end.
#[expect(clippy::disallowed_methods, reason = "measuring time is what this program is for")]
pub(crate) fn waited_for_first<T>(work: impl FnOnce(&(dyn Fn() + Sync)) -> T) -> (T, Option<f64>, f64) {
    let begin = Instant::now();
    let first = OnceLock::new();
    let milliseconds = || begin.elapsed().as_secs_f64() * 1000.0;
    let result = work(&|| {
        first.get_or_init(milliseconds);
    });
    let end = milliseconds();
    (result, first.into_inner(), end)
}

/// The median of some values; 0 of none.
pub(crate) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// A time as it is worth printing: to a thousandth.
pub(crate) fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_value_is_the_median() {
        assert!((median(vec![9.0, 1.0, 4.0]) - 4.0).abs() < 1e-9);
        assert!(median(Vec::new()).abs() < 1e-9);
    }

    #[test]
    fn work_gives_its_result_and_takes_time() {
        let (sum, milliseconds) = timed(|| (0..1000).sum::<i32>());
        assert_eq!(sum, 499_500);
        assert!(milliseconds >= 0.0);
    }
}
