//! The work and what has been arranged of it: told from others by identity, so that what is made from both alone can be
//! kept while the player steps and browses; and whether the one still is of the other.

use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Work};

use super::Session;
use super::notice::Notice;

/// A work with its arrangement. Two are equal only where both are the same ones.
#[derive(Clone, Debug)]
pub struct Arranged {
    work: Arc<Work>,
    arrangement: Option<Arc<Arrangement>>,
}

impl PartialEq for Arranged {
    fn eq(&self, other: &Self) -> bool {
        let same = match (&self.arrangement, &other.arrangement) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        same && Arc::ptr_eq(&self.work, &other.work)
    }
}

/// Why there is no arrangement of the work as it is now.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Behind<'a> {
    /// It is still being looked for.
    Searching,
    /// There can be none, for this reason.
    Refused(&'a str),
    /// The search ended before it had one.
    Stopped,
}

impl Behind<'_> {
    /// The reason in a sentence.
    pub fn reason(&self) -> String {
        match self {
            Self::Searching => "the last change is still being arranged; wait until it is there".to_owned(),
            Self::Refused(reason) => format!("{reason}; or take the last change back"),
            Self::Stopped => {
                "the search was stopped before the last change was arranged; let the easiest route be found"
                    .to_owned()
            }
        }
    }
}

impl Session {
    /// The work and the arrangement as they are now.
    pub fn arranged(&self) -> Arranged {
        Arranged { work: Arc::clone(self.history.work()), arrangement: self.arrangement.clone() }
    }

    /// Why the arrangement shown is not of the work as it is now; none where it is, or where there is no melody.
    pub fn behind(&self) -> Option<Behind<'_>> {
        let work = self.history.work();
        if self.routing.arranges(work) || work.tune.melody().is_empty() {
            None
        } else if self.progress().is_some() {
            Some(Behind::Searching)
        } else {
            Some(self.routing.refused().map_or(Behind::Stopped, Behind::Refused))
        }
    }

    /// Says why nothing is exported; gives whether there is a reason.
    pub(super) fn refuses_export(&mut self) -> bool {
        let reason = self.behind().map(|behind| behind.reason());
        let refused = reason.map(|reason| {
            Notice::refused(format!(
                "Nothing was exported, because the pages are from before the last change: {reason}"
            ))
        });
        let refuses = refused.is_some();
        self.notice = refused.or(self.notice.take());
        refuses
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::arrangement::Edit;
    use handspan_core::pitch::Interval;

    use super::*;
    use crate::command::{Command, FileWish, RouteWish};
    use crate::session::Level;

    /// Far above the neck.
    fn too_high() -> Command {
        Command::Edit(Edit::Transpose(Interval::new(24)))
    }

    #[test]
    fn what_cannot_be_arranged_is_not_exported_and_keeps_what_was() {
        let folder = tempfile::tempdir().unwrap();
        let session = Session::on_demo();
        let before = session.arrangement().cloned();
        assert_eq!(session.behind(), None);
        let mut session = session.after(too_high());
        assert!(matches!(session.behind(), Some(Behind::Refused(reason)) if reason.contains("beyond")));
        assert_eq!(session.arrangement(), before.as_ref(), "what was arranged is not lost");
        for name in ["sheet.pdf", "sheet.musicxml", "sheet.svg"] {
            let path = folder.path().join(name);
            session = session.after(Command::File(FileWish::ExportTo(path.clone())));
            assert!(!path.exists(), "{name}");
            let notice = session.notice().expect("a reason");
            assert!(notice.text.starts_with("Nothing was exported"), "{}", notice.text);
            assert!(notice.text.contains("semitones") && notice.text.contains("take the last change back"));
        }
        let session = session.after(Command::Undo);
        assert_eq!((session.behind(), session.notice()), (None, None), "the reason goes with its cause");
        let path = folder.path().join("sheet.svg");
        let session = session.after(Command::File(FileWish::ExportTo(path.clone())));
        assert!(path.exists() && session.notice().is_some_and(|n| n.level == Level::Told));
    }

    #[test]
    fn nothing_old_is_exported_while_a_change_is_arranged_or_after_it_was_stopped() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sheet.svg");
        let mut session = Session::on_demo();
        session.run(Command::Edit(Edit::Transpose(Interval::new(1))));
        assert_eq!(session.behind(), Some(Behind::Searching));
        session.run(Command::File(FileWish::ExportTo(path.clone())));
        session.run(Command::Route(RouteWish::Stop));
        assert_eq!(session.behind(), Some(Behind::Stopped));
        let session = session.after(Command::File(FileWish::ExportTo(path.clone())));
        assert!(!path.exists());
        assert_eq!(session.after(Command::Route(RouteWish::Tune)).behind(), None);
    }
}
