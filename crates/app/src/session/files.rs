//! Opening, saving and exporting as jobs.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::Work;

use super::notice::{Level, Notice, count};
use super::route::Purpose;
use super::{Browsing, Session};
use crate::command::FileWish;
use crate::file::{self, Opened};
use crate::job::{Job, Outcome};
use handspan_core::arrangement::History;

/// The file of the session and the jobs that read and write.
#[derive(Debug, Default)]
pub(super) struct Files {
    path: Option<PathBuf>,
    reading: Job<Result<Opened, String>>,
    writing: Job<Result<Written, String>>,
}

/// What has been written.
#[derive(Debug)]
struct Written {
    path: PathBuf,
    /// The work as it stands in the project file; none for an export.
    project: Option<Arc<Work>>,
}

impl Files {
    pub(super) fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    pub(super) fn project_path(&self) -> Option<PathBuf> {
        self.path.clone().filter(|path| file::is_project(path))
    }
}

impl Session {
    pub(super) fn file(&mut self, wish: FileWish) {
        match wish {
            FileWish::OpenAt(path) => {
                let question = move |_: &dyn handspan_core::watch::Watch| file::open(&path);
                self.files.reading.start(&self.lane, "open", question);
            }
            FileWish::Save => {
                if let Some(path) = self.save_path() {
                    self.save(path);
                }
            }
            FileWish::SaveAt(path) => self.save(path),
            FileWish::ExportTo(path) => self.export(path),
            // The window asks for a path first.
            FileWish::Open | FileWish::SaveAs | FileWish::Export => {}
        }
    }

    fn save(&mut self, path: PathBuf) {
        let path = file::with_project_ending(path);
        let work = Arc::clone(self.history.work());
        self.files.writing.start(&self.lane, "save", move |_| {
            file::save_project(&path, &work)?;
            Ok(Written { path, project: Some(work) })
        });
    }

    fn export(&mut self, path: PathBuf) {
        let Some(arrangement) = self.arrangement.clone() else {
            return;
        };
        self.files.writing.start(&self.lane, "export", move |_| {
            file::export(&path, &arrangement.score)?;
            Ok(Written { path, project: None })
        });
    }

    pub(super) fn poll_files(&mut self) -> bool {
        let read = self.files.reading.poll();
        let written = self.files.writing.poll();
        let changed = read.is_some() || written.is_some();
        match read {
            Some(Outcome::Answer(Ok(opened))) => self.take_in(opened),
            Some(Outcome::Answer(Err(reason))) => self.notice = Some(Notice::failed(reason)),
            Some(Outcome::Lost) => {
                self.notice = Some(Notice::failed(
                    "The file could not be opened, by a fault of this program; your work is unharmed",
                ));
            }
            None => {}
        }
        match written {
            Some(Outcome::Answer(Ok(written))) => self.has_written(written),
            Some(Outcome::Answer(Err(reason))) => self.notice = Some(Notice::failed(reason)),
            Some(Outcome::Lost) => {
                self.notice = Some(Notice::failed(
                    "Nothing was written, by a fault of this program; your work is unharmed",
                ));
            }
            None => {}
        }
        changed
    }

    fn has_written(&mut self, written: Written) {
        let path = written.path.display();
        let text = match &written.project {
            Some(_) => format!("Saved as {path}"),
            None => format!("Exported to {path}"),
        };
        self.notice = Some(Notice::told(text));
        if let Some(work) = written.project {
            self.saved = work;
            self.files.path = Some(written.path);
        }
    }

    fn take_in(&mut self, opened: Opened) {
        self.notice = (!opened.remarks.is_empty()).then(|| Notice {
            level: Level::Mind,
            text: format!("{} could not be kept as written", count(opened.remarks.len(), "thing", "things")),
            details: opened.remarks,
        });
        self.history = History::new(opened.work);
        self.saved = Arc::clone(self.history.work());
        self.files.path = Some(opened.path);
        self.arrangement = None;
        self.moment = 0;
        self.passage = None;
        self.first_steps = false;
        self.browsing = Browsing::default();
        self.rearrange(Purpose::Changed);
    }
}
