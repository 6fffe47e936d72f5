//! Opening, saving and exporting as jobs, one window at a time.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{History, Work};
use handspan_core::plan::{Locks, Plan};
use handspan_core::time::Ticks;
use handspan_core::tune::mend::MOST_BARS;
use handspan_core::tune::{Bar, TempoAt, Tune, TuneParts};
use handspan_formats::musicxml::PartChoice;

use super::claim::Claim;
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
    claim: Option<Claim>,
    held: Option<Held>,
    reading: Job<Result<Read, String>>,
    writing: Job<Result<Written, String>>,
}

/// What has been read, and whether it may be worked on.
type Read = (Opened, Result<Option<Claim>, String>);

/// A project that another window works on.
#[derive(Debug)]
pub struct Held {
    opened: Opened,
    /// Who: `anna on workbench`.
    pub by: String,
}

impl Held {
    /// The project.
    pub fn path(&self) -> &Path {
        &self.opened.path
    }
}

/// What has been written.
#[derive(Debug)]
struct Written {
    path: PathBuf,
    /// The work as it stands in the project file; none for an export.
    project: Option<Saved>,
}

#[derive(Debug)]
struct Saved {
    work: Arc<Work>,
    /// None where the project was claimed already, or cannot be.
    claim: Option<Claim>,
}

impl Files {
    pub(super) fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    pub(super) fn project_path(&self) -> Option<PathBuf> {
        self.path.clone().filter(|path| file::is_project(path))
    }

    /// The file that work taken back came from; somebody else may work on it by now.
    pub(super) fn adopt(&mut self, path: Option<PathBuf>) {
        self.claim = None;
        let claim = path.as_deref().filter(|path| file::is_project(path)).map(Claim::of);
        self.path = path.filter(|_| !matches!(claim, Some(Err(_))));
        self.claim = claim.and_then(Result::ok).flatten();
    }

    pub(super) fn release(&mut self) {
        self.claim = None;
    }

    fn is_claimed(&self, path: &Path) -> bool {
        self.claim.as_ref().is_some_and(|claim| claim.project() == path)
    }
}

impl Session {
    pub(super) fn file(&mut self, wish: FileWish) {
        match wish {
            FileWish::OpenAt(path) => self.read(path, PartChoice::default(), Plan::default()),
            FileWish::ReadParts(choice) => {
                if let Some(import) = &self.import {
                    // Guitar, hand and key stay; locks belong to the tune that was read before.
                    let plan = Plan { locks: Locks::default(), ..self.work().plan.clone() };
                    self.read(import.path().to_path_buf(), choice, plan);
                }
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
            FileWish::Begin(tune) => self.begin_new(&tune),
            FileWish::OpenCopy => {
                if let Some(held) = self.files.held.take() {
                    let from = held.opened.path.clone();
                    self.take_in(held.opened, None);
                    self.saved = None;
                    self.files.path = None;
                    self.notice = Some(Notice::told(format!(
                        "This is a copy; saving asks for a name of its own, and {} stays as it is",
                        from.display()
                    )));
                }
            }
            FileWish::LeaveHeld => self.files.held = None,
            // The window asks for a path first, unless there is a reason not to.
            FileWish::Export(_) => {
                self.refuses_export();
            }
            FileWish::Open | FileWish::SaveAs => {}
        }
    }

    /// A project that was to be opened and is held by another window, until it is said what becomes of it.
    pub const fn held(&self) -> Option<&Held> {
        self.files.held.as_ref()
    }

    fn read(&mut self, path: PathBuf, choice: PartChoice, plan: Plan) {
        let claimed = self.files.is_claimed(&path);
        self.files.reading.start(&self.lane, "open", move |_| {
            let opened = file::open(&path, choice, plan)?;
            let claim = if claimed || !file::is_project(&path) { Ok(None) } else { Claim::of(&path) };
            Ok((opened, claim))
        });
    }

    fn save(&mut self, path: PathBuf) {
        let path = file::with_project_ending(path);
        let work = Arc::clone(self.history.work());
        let claimed = self.files.is_claimed(&path);
        self.files.writing.start(&self.lane, "save", move |_| {
            let claim = if claimed { Ok(None) } else { Claim::of(&path) };
            let claim = claim.map_err(|who| {
                format!(
                    "Nothing was written: another window has the project open ({who}); save under another name: {}",
                    path.display()
                )
            })?;
            file::save_project(&path, &work)?;
            Ok(Written { path, project: Some(Saved { work, claim }) })
        });
    }

    fn export(&mut self, path: PathBuf) {
        let Some(arrangement) = self.arrangement.clone() else {
            return;
        };
        if self.refuses_export() {
            return;
        }
        let options = self.paper.options().clone();
        self.files.writing.start(&self.lane, "export", move |_| {
            file::export(&path, &arrangement.score, &options)?;
            Ok(Written { path, project: None })
        });
    }

    pub(super) fn poll_files(&mut self) -> bool {
        let read = self.files.reading.poll();
        let written = self.files.writing.poll();
        let changed = read.is_some() || written.is_some();
        match read {
            Some(Outcome::Answer(Ok((opened, Ok(claim))))) => self.take_in(opened, claim),
            Some(Outcome::Answer(Ok((opened, Err(by))))) => self.files.held = Some(Held { opened, by }),
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
        if let Some(saved) = written.project {
            self.saved = Some(saved.work);
            self.recovery.forget_kept();
            if !self.files.is_claimed(&written.path) {
                self.files.claim = saved.claim;
            }
            self.files.path = Some(written.path);
        }
    }

    fn take_in(&mut self, opened: Opened, claim: Option<Claim>) {
        let import = Import::of(&opened);
        if !self.files.is_claimed(&opened.path) {
            self.files.claim = claim;
        }
        self.files.path = Some(opened.path);
        self.begin(opened.work);
        self.saved = Some(Arc::clone(self.history.work()));
        self.notice = import.notice();
        self.first_steps = false;
        if import.is_worth_a_look() {
            self.place = Place::Tune;
            self.writing.show(Page::Tune);
        }
        self.import = Some(import);
    }

    /// A tune from nothing, for the instrument and the hand at work.
    fn begin_new(&mut self, new: &NewTune) {
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
                self.files.path = None;
                self.files.claim = None;
                self.begin(Work { tune: Arc::new(tune), plan });
                self.saved = Some(Arc::clone(self.history.work()));
                self.notice = None;
                self.first_steps = false;
                self.place = Place::Tune;
            }
            Err(fault) => self.notice = Some(Notice::failed(fault.to_string())),
        }
    }

    /// Puts other work in place of this.
    pub(super) fn begin(&mut self, work: Work) {
        self.history = History::new(work);
        self.lay_aside();
        self.put_routes_away();
        self.put_lies_away();
        self.moment = 0;
        self.passage = None;
        self.browsing = Browsing::default();
        self.writing = Writing::default();
        self.import = None;
        self.rearrange(Purpose::Changed);
    }
}
