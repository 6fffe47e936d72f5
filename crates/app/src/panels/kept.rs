//! A model that is kept from frame to frame, until what it is made from has changed.

/// A model as of a revision of the session.
#[derive(Debug)]
pub struct Kept<M> {
    made: Option<(u64, M)>,
}

impl<M> Default for Kept<M> {
    fn default() -> Self {
        Self { made: None }
    }
}

impl<M> Kept<M> {
    /// The model, made anew where it is of another revision; none where there is nothing to show.
    pub fn of(&mut self, revision: u64, make: impl FnOnce() -> Option<M>) -> Option<&M> {
        if self.made.as_ref().is_none_or(|(of, _)| *of != revision) {
            self.made = make().map(|model| (revision, model));
        }
        self.made.as_ref().map(|(_, model)| model)
    }

    /// Makes it anew at the next frame in any case.
    pub fn forget(&mut self) {
        self.made = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_model_is_made_once_a_revision() {
        let mut kept = Kept::default();
        assert_eq!(kept.of(1, || Some("first")), Some(&"first"));
        assert_eq!(kept.of(1, || Some("not made")), Some(&"first"));
        assert_eq!(kept.of(2, || Some("second")), Some(&"second"));
        kept.forget();
        assert_eq!(kept.of(2, || None::<&str>), None);
    }
}
