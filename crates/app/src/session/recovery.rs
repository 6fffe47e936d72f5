//! Unsaved work outlives a crash: it is written beside, again after every change, and taken away once it is safe.
//!
//! Every window has a place of its own in the folder and holds a lock on it for as long as it lives. A place with work
//! in it that nobody holds was left by a window that ended without warning; its work is offered back.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::Work;
use handspan_formats::project;

use super::Session;
use super::notice::Notice;
use crate::command::RecoveryWish;
use crate::job::{Job, Outcome};

/// How many places there are at most.
const PLACES: usize = 64;
/// The work itself, as a project.
const WORK: &str = "work.handspan";
/// The file it came from.
const SOURCE: &str = "came-from";
/// What is locked.
const LOCK: &str = "lock";

/// A place of unsaved work, held by this window.
#[derive(Debug)]
struct Slot {
    folder: PathBuf,
    _lock: File,
}

/// Work that another window left when it ended without warning.
#[derive(Debug)]
pub struct Found {
    slot: Slot,
    work: Work,
    source: Option<PathBuf>,
}

/// What keeps the unsaved work of this window.
#[derive(Debug, Default)]
pub(super) struct Recovery {
    slot: Option<Slot>,
    found: Vec<Found>,
    job: Job<Result<(), String>>,
    /// The work as it was last written or needs not be written.
    kept: Option<Arc<Work>>,
}

impl Found {
    /// The title of the tune.
    pub fn title(&self) -> &str {
        self.work.tune.title()
    }

    /// The file it came from, where it came from one.
    pub fn source(&self) -> Option<&Path> {
        self.source.as_deref()
    }
}

impl Slot {
    /// Holds a place, unless another window does.
    fn hold(folder: PathBuf) -> Option<Self> {
        fs::create_dir_all(&folder).ok()?;
        let lock = File::options().create(true).append(true).open(folder.join(LOCK)).ok()?;
        lock.try_lock().ok()?;
        Some(Self { folder, _lock: lock })
    }

    fn work(&self) -> PathBuf {
        self.folder.join(WORK)
    }

    /// What was left here, if anything can be read.
    fn left(&self) -> Option<(Work, Option<PathBuf>)> {
        let work = project::read(&fs::read(self.work()).ok()?).ok()?.value;
        let source = fs::read_to_string(self.folder.join(SOURCE)).ok().filter(|path| !path.is_empty());
        Some((work, source.map(PathBuf::from)))
    }

    /// Takes away what is kept here. What cannot be taken away is offered once more, which harms nobody.
    fn clear(&self) {
        fs::remove_file(self.work()).ok();
        fs::remove_file(self.folder.join(SOURCE)).ok();
    }
}

impl Recovery {
    /// Looks for what was left in the folder and holds a place in it; without a folder nothing is kept.
    pub(super) fn within(folder: Option<&Path>) -> Self {
        let mut recovery = Self::default();
        let Some(folder) = folder else {
            return recovery;
        };
        let mut slots = (0..PLACES).map(|place| folder.join(place.to_string()));
        while recovery.slot.is_none() {
            let Some(next) = slots.next() else {
                return recovery;
            };
            let Some(slot) = Slot::hold(next) else {
                continue;
            };
            match slot.left() {
                Some((work, source)) => recovery.found.push(Found { slot, work, source }),
                // What cannot be read stays for somebody who can.
                None if slot.work().exists() => {}
                None => recovery.slot = Some(slot),
            }
        }
        recovery
    }
}

impl Recovery {
    /// What was kept may be needed no more; the next look decides.
    pub(super) fn forget_kept(&mut self) {
        self.kept = None;
    }
}

impl Session {
    /// Work that was left by a window that ended without warning, for as long as nobody has said what becomes of it.
    pub fn found(&self) -> Option<&Found> {
        self.recovery.found.first()
    }

    pub(super) fn recover(&mut self, wish: RecoveryWish) {
        if self.recovery.found.is_empty() {
            return;
        }
        let found = self.recovery.found.remove(0);
        match wish {
            RecoveryWish::Discard => found.slot.clear(),
            RecoveryWish::TakeBack => {
                // The place goes along with the work, so that there is no time in which it is kept nowhere.
                if let Some(own) = self.recovery.slot.replace(found.slot) {
                    own.clear();
                }
                self.take_back(found.work, found.source);
            }
        }
    }

    fn take_back(&mut self, work: Work, source: Option<PathBuf>) {
        self.begin(work);
        self.saved = None;
        self.recovery.kept = Some(Arc::clone(self.history.work()));
        self.files.adopt(source);
        self.notice = Some(Notice::told("Your work is back as you left it; save it to keep it"));
    }

    /// Writes unsaved work beside, where it has changed since.
    pub(super) fn keep_unsaved(&mut self) -> bool {
        let told = match self.recovery.job.poll() {
            Some(Outcome::Answer(Err(reason))) => {
                self.notice = Some(Notice::failed(format!(
                    "Unsaved work can't be kept for a crash, so save it yourself: {reason}"
                )));
                true
            }
            _ => false,
        };
        let Some(slot) = self.recovery.slot.as_ref().filter(|_| !self.recovery.job.is_running()) else {
            return told;
        };
        let work = self.history.work();
        if self.recovery.kept.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, work)) {
            return told;
        }
        let work = Arc::clone(work);
        self.recovery.kept = Some(Arc::clone(&work));
        if self.is_unsaved() {
            let (path, source) = (slot.work(), slot.folder.join(SOURCE));
            let came_from = self.files.path().map(|p| p.display().to_string()).unwrap_or_default();
            self.recovery.job.start(&self.lane, "keep unsaved work", move |_| {
                let said = |fault: std::io::Error| fault.to_string();
                fs::write(source, came_from).map_err(said)?;
                handspan_formats::save(&path, project::write(&work).as_bytes()).map_err(said)
            });
        } else {
            slot.clear();
        }
        told
    }

    /// Ends the session as its player wishes: nothing is left to be offered back.
    pub fn close(&mut self) {
        self.recovery.job.stop();
        if let Some(slot) = self.recovery.slot.take() {
            slot.clear();
        }
        self.files.release();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::{Command, LockWish};
    use crate::folders::Folders;
    use crate::job::Lane;

    fn window(folder: &Path) -> Session {
        let mut session = Session::within(crate::demo::work(), Lane::Inline, &Folders::within(folder));
        while session.poll() {}
        session
    }

    fn locked(folder: &Path) -> Session {
        window(folder).after(Command::Lock(LockWish::Grip))
    }

    #[test]
    fn unsaved_work_is_offered_after_a_crash_and_taken_back_with_its_changes() {
        let folder = tempfile::tempdir().unwrap();
        let crashed = locked(folder.path());
        let work = crashed.work().clone();
        assert!(window(folder.path()).found().is_none(), "the other window is still there");
        drop(crashed);
        let next = window(folder.path());
        assert_eq!(next.found().map(Found::title), Some("Gangway at Six"));
        let next = next.after(Command::Recover(RecoveryWish::TakeBack));
        assert_eq!(*next.work(), work);
        assert!(next.is_unsaved() && next.found().is_none());
        drop(next);
        assert!(window(folder.path()).found().is_some(), "it is kept until it is saved");
    }

    #[test]
    fn nothing_is_offered_once_it_is_saved_or_left_on_purpose() {
        let folder = tempfile::tempdir().unwrap();
        let saved = folder.path().join("mine.handspan");
        drop(locked(folder.path()).after(Command::File(crate::command::FileWish::SaveAt(saved))));
        assert!(window(folder.path()).found().is_none());
        let mut left = locked(folder.path());
        left.close();
        drop(left);
        assert!(window(folder.path()).found().is_none());
        drop(locked(folder.path()));
        drop(window(folder.path()).after(Command::Recover(RecoveryWish::Discard)));
        assert!(window(folder.path()).found().is_none());
    }
}
