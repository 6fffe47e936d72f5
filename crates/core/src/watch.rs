//! How long work is watched from outside: asked to stop, and seen to progress.

/// What a long computation is given so that somebody can follow and end it.
///
/// Kernels ask once per outer step. The answer never changes a result that is given as proven; a stopped search
/// says that it was stopped.
pub trait Watch: Sync {
    /// Whether the work should end at the next opportunity.
    fn should_stop(&self) -> bool;

    /// Told how much of the work is done.
    fn progress(&self, done: usize, total: usize);
}

/// Work that is a part of other work: it can be stopped, and what it has done is not told.
#[derive(Clone, Copy)]
pub struct Within<'a>(pub &'a dyn Watch);

impl std::fmt::Debug for Within<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Within")
    }
}

impl Watch for Within<'_> {
    fn should_stop(&self) -> bool {
        self.0.should_stop()
    }

    fn progress(&self, _done: usize, _total: usize) {}
}

/// Nobody watches: never stops, shows nothing. For tests and short work.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn should_stop(&self) -> bool {
        false
    }

    fn progress(&self, _done: usize, _total: usize) {}
}
