//! Progress on a terminal, for work that takes longer than half a second.

use std::io::{self, Write as _};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use handspan_core::watch::{Piece, Watch};
use handspan_processors::Processors;

/// Shorter work shows nothing.
const PATIENCE: Duration = Duration::from_millis(500);
/// The line is written anew at most this often.
const EVERY: Duration = Duration::from_millis(100);

/// Shows one line that says how far the work is; takes it away when dropped.
#[derive(Debug)]
pub(crate) struct Progress {
    what: &'static str,
    started: Option<Instant>,
    /// When the line was last written, in milliseconds since the start; 0 for never.
    shown: AtomicU64,
}

impl Progress {
    /// Progress for somebody who looks on; silent otherwise.
    pub(crate) fn new(what: &'static str, watched: bool) -> Self {
        #[expect(clippy::disallowed_methods, reason = "the clock decides what is shown, never what is found")]
        let started = watched.then(Instant::now);
        Self { what, started, shown: AtomicU64::new(0) }
    }
}

impl Watch for Progress {
    fn should_stop(&self) -> bool {
        false
    }

    fn progress(&self, done: usize, total: usize) {
        let Some(started) = self.started else { return };
        let now = started.elapsed();
        let shown = Duration::from_millis(self.shown.load(Ordering::Relaxed));
        if now < PATIENCE || now < shown + EVERY || total == 0 {
            return;
        }
        self.shown.store(now.as_millis() as u64, Ordering::Relaxed);
        let percent = 100 * done.min(total) / total;
        write!(io::stderr(), "\r{} … {percent} %", self.what).unwrap_or_default();
    }

    fn at_once(&self) -> usize {
        Processors.at_once()
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        Processors.side_by_side(pieces);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown.load(Ordering::Relaxed) > 0 {
            write!(io::stderr(), "\r\x1b[K").unwrap_or_default();
        }
    }
}
