//! The processors of this machine, lent to long work.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock, PoisonError};
use std::thread::available_parallelism;

use handspan_core::watch::{Piece, Unwatched, Watch};
use rayon::{ThreadPool, ThreadPoolBuilder};

/// More do not make a search faster: its moments follow one another (measured no further than two; the project's own).
const MOST: usize = 8;

/// All the processors, with nobody who follows the work or ends it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Processors;

impl Watch for Processors {
    fn should_stop(&self) -> bool {
        false
    }

    fn progress(&self, _done: usize, _total: usize) {}

    fn at_once(&self) -> usize {
        1 + helpers().map_or(0, ThreadPool::current_num_threads)
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        let Some(helpers) = helpers().filter(|_| pieces.len() > 1) else {
            return Unwatched.side_by_side(pieces);
        };
        let taken = Taken::of(helpers.current_num_threads(), pieces.len() - 1);
        let left = Mutex::new(pieces.into_iter());
        let next = || left.lock().unwrap_or_else(PoisonError::into_inner).next();
        let work = || {
            while let Some(piece) = next() {
                piece();
            }
        };
        // Whoever asks takes pieces too, instead of waiting for the others to wake up.
        helpers.in_place_scope(|scope| {
            for _ in 0..taken.0 {
                scope.spawn(|_| work());
            }
            work();
        });
    }
}

/// How many threads work for somebody.
static TAKEN: AtomicUsize = AtomicUsize::new(0);

/// Threads that work for one who asks and for nobody else, until they are done: short work never waits for long work to
/// give its threads back.
struct Taken(usize);

impl Taken {
    /// As many as are free and wanted, of so many.
    fn of(all: usize, wanted: usize) -> Self {
        let free = |taken: usize| all.saturating_sub(taken).min(wanted);
        let before =
            TAKEN.fetch_update(Ordering::Relaxed, Ordering::Relaxed, |taken| Some(taken + free(taken)));
        Self(free(before.unwrap_or_else(|taken| taken)))
    }
}

impl Drop for Taken {
    fn drop(&mut self) {
        TAKEN.fetch_sub(self.0, Ordering::Relaxed);
    }
}

/// Threads beside the one that asks; none on a machine with one processor, or where none can be had.
fn helpers() -> Option<&'static ThreadPool> {
    static HELPERS: OnceLock<Option<ThreadPool>> = OnceLock::new();
    let start = || {
        let others = available_parallelism().map_or(1, NonZero::get).min(MOST) - 1;
        let pool =
            ThreadPoolBuilder::new().num_threads(others).thread_name(|index| format!("helper {index}"));
        (others > 0).then(|| pool.build().ok()).flatten()
    };
    HELPERS.get_or_init(start).as_ref()
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::sync_channel;
    use std::time::Duration;

    use super::*;

    #[test]
    fn short_work_does_not_wait_for_the_threads_of_long_work() {
        let (begun, has_begun) = sync_channel(MOST);
        let (go_on, goes_on) = sync_channel::<()>(1);
        let goes_on = Mutex::new(goes_on);
        std::thread::scope(|scope| {
            scope.spawn(|| {
                let begun = Mutex::new(begun);
                // As many pieces as there are threads: all of them are taken until the short work is done.
                let piece = || -> Piece<'_> {
                    Box::new(|| {
                        begun.lock().unwrap().send(()).unwrap();
                        goes_on.lock().unwrap().recv().ok();
                    })
                };
                Processors.side_by_side((0..Processors.at_once()).map(|_| piece()).collect());
            });
            has_begun.recv().unwrap();
            let (done, is_done) = sync_channel(1);
            scope.spawn(move || {
                let count = AtomicUsize::new(0);
                let piece = || -> Piece<'_> {
                    Box::new(|| {
                        count.fetch_add(1, Ordering::Relaxed);
                    })
                };
                Processors.side_by_side((0..20).map(|_| piece()).collect());
                done.send(count.into_inner()).unwrap();
            });
            // Far longer than it takes: where it waits for the long work, it waits for ever.
            let short = is_done.recv_timeout(Duration::from_mins(1));
            drop(go_on);
            assert_eq!(short, Ok(20));
        });
    }

    #[test]
    fn every_piece_is_done_once() {
        for count in [0, 1, 2, 100] {
            let done: Vec<AtomicUsize> = (0..count).map(AtomicUsize::new).collect();
            let piece = |number: &'_ AtomicUsize| {
                number.fetch_add(1000, Ordering::Relaxed);
            };
            let pieces = done.iter().map(|number| -> Piece<'_> { Box::new(move || piece(number)) });
            Processors.side_by_side(pieces.collect());
            let done: Vec<usize> = done.into_iter().map(AtomicUsize::into_inner).collect();
            assert_eq!(done, (1000..1000 + count).collect::<Vec<_>>());
        }
        assert!((1..=MOST).contains(&Processors.at_once()));
    }
}
