//! How long work is watched from outside: asked to stop, seen to progress, and lent processors.

/// A piece of work that depends on no other.
pub type Piece<'a> = Box<dyn FnOnce() + Send + 'a>;

/// What a long computation is given so that somebody can follow and end it.
///
/// Kernels ask once per outer step. The answer never changes a result that is given as proven; a stopped search
/// says that it was stopped.
pub trait Watch: Sync {
    /// Whether the work should end at the next opportunity.
    fn should_stop(&self) -> bool;

    /// Told how much of the work is done.
    fn progress(&self, done: usize, total: usize);

    /// Into how many pieces work is worth splitting: as many as are done at once. No result depends on it.
    fn at_once(&self) -> usize {
        1
    }

    /// Does every piece: one after another, where nobody lends more than one processor.
    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        for piece in pieces {
            piece();
        }
    }
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

    fn at_once(&self) -> usize {
        self.0.at_once()
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        self.0.side_by_side(pieces);
    }
}

/// Work that is one of several done side by side: it can be stopped, and what it has done is not told. No processors
/// are lent to it, since each of the others has one.
#[derive(Clone, Copy)]
pub struct Beside<'a>(pub &'a dyn Watch);

impl std::fmt::Debug for Beside<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Beside")
    }
}

impl Watch for Beside<'_> {
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
