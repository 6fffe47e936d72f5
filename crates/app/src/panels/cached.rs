//! Models are made once for each state of what they are made from, however many frames show it.

/// A model with what it was made from.
#[derive(Debug)]
pub struct Cached<K, M> {
    made: Option<(K, M)>,
}

impl<K, M> Default for Cached<K, M> {
    fn default() -> Self {
        Self { made: None }
    }
}

impl<K: PartialEq, M> Cached<K, M> {
    /// The model, made anew where what it is made from is another than before.
    pub fn of(&mut self, from: K, make: impl FnOnce() -> M) -> &M {
        if self.made.as_ref().is_some_and(|(of, _)| *of != from) {
            self.made = None;
        }
        &self.made.get_or_insert_with(|| (from, make())).1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, Go, LockWish};
    use crate::session::Session;

    #[test]
    fn a_model_is_made_again_only_when_something_has_happened() {
        let session = Session::on_demo();
        let mut cached = Cached::default();
        assert_eq!(*cached.of(session.state(), || session.moment_index()), 0);
        assert_eq!(*cached.of(session.state(), || 7), 0);
        let session = session.after(Command::Go(Go::Next));
        assert_eq!(*cached.of(session.state(), || session.moment_index()), 1);
    }

    #[test]
    fn what_is_arranged_stays_the_same_while_the_player_steps_on() {
        let session = Session::on_demo();
        let mut cached = Cached::default();
        assert_eq!(*cached.of(session.arranged(), || 1), 1);
        let session = session.after(Command::Go(Go::Next));
        assert_eq!(*cached.of(session.arranged(), || 2), 1);
        let session = session.after(Command::Lock(LockWish::Grip));
        assert_eq!(*cached.of(session.arranged(), || 3), 3);
    }
}
