//! Opening, saving and exporting as jobs.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{History, Work};
use handspan_core::plan::Plan;
use handspan_core::time::Ticks;
use handspan_core::tune::mend::MOST_BARS;
use handspan_core::tune::{Bar, TempoAt, Tune, TuneParts};

use super::notice::Notice;
use super::route::Purpose;
use super::{Browsing, Import, Place, Session, Writing};
use crate::command::{FileWish, NewTune, Page};
use crate::file::{self, Opened};
use crate::job::{Job, Outcome};

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
            FileWish::New => {
                self.place = Place::Tune;
                self.writing.form(true);
            }
            FileWish::Begin(tune) => self.begin(&tune),
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
        let import = Import::of(&opened);
        self.notice = import.notice();
        self.start(opened.work, Some(opened.path));
        if import.is_worth_a_look() {
            self.place = Place::Tune;
            self.writing.show(Page::Tune);
        }
        self.import = Some(import);
    }

    /// A tune from nothing, for the instrument and the hand at work.
    fn begin(&mut self, new: &NewTune) {
        let bar = |number: usize| Bar::plain(number.to_string(), new.metre.bar(), new.metre, new.key);
        let parts = TuneParts {
            title: new.title.trim().to_owned(),
            composer: new.composer.trim().to_owned(),
            bars: (1..=new.bars.clamp(1, MOST_BARS)).map(bar).collect(),
            tempi: vec![TempoAt { at: Ticks::ZERO, tempo: new.tempo }],
            ..TuneParts::default()
        };
        let plan = &self.work().plan;
        let plan = Plan { instrument: plan.instrument.clone(), hand: plan.hand, ..Plan::default() };
        match Tune::try_new(parts) {
            Ok(tune) => {
                self.notice = None;
                self.start(Work { tune: Arc::new(tune), plan }, None);
                self.place = Place::Tune;
            }
            Err(fault) => self.notice = Some(Notice::failed(fault.to_string())),
        }
    }

    /// Another work without a past.
    fn start(&mut self, work: Work, path: Option<PathBuf>) {
        self.history = History::new(work);
        self.saved = Arc::clone(self.history.work());
        self.files.path = path;
        self.arrangement = None;
        self.moment = 0;
        self.passage = None;
        self.first_steps = false;
        self.browsing = Browsing::default();
        self.writing = Writing::default();
        self.import = None;
        self.rearrange(Purpose::Changed);
    }
}
