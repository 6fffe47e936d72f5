//! Models are made once for each state of the session, however many frames show it.

use crate::session::Session;

/// A model with the state it was made from.
#[derive(Debug)]
pub struct Cached<M> {
    made: Option<(u64, M)>,
}

impl<M> Default for Cached<M> {
    fn default() -> Self {
        Self { made: None }
    }
}

impl<M> Cached<M> {
    /// The model of the session as it stands, made anew where the session has changed since.
    pub fn of(&mut self, session: &Session, make: impl FnOnce(&Session) -> M) -> &M {
        let state = session.state();
        if self.made.as_ref().is_some_and(|(of, _)| *of != state) {
            self.made = None;
        }
        &self.made.get_or_insert_with(|| (state, make(session))).1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, Go};

    #[test]
    fn a_model_is_made_again_only_when_something_has_happened() {
        let session = Session::on_demo();
        let mut cached = Cached::default();
        assert_eq!(*cached.of(&session, Session::moment_index), 0);
        assert_eq!(*cached.of(&session, |_| 7), 0);
        let session = session.after(Command::Go(Go::Next));
        assert_eq!(*cached.of(&session, Session::moment_index), 1);
    }
}
