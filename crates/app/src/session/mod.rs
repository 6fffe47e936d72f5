//! What one window is doing: the work with its history, the arrangement made of it, where the player stands, which
//! grips are looked at, files and notices. Knows nothing of drawing.
//!
//! Everything that is shown is read from here; everything that changes comes in through [`Session::run`].

mod arranged;
mod browse;
mod claim;
mod files;
mod import;
mod lies;
mod locks;
mod notice;
mod own;
mod paper;
mod place;
mod recovery;
mod route;
mod routes;
pub mod value;
mod view;
mod voice;
mod writing;

use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{Arrangement, Edit, History, Moment, Work};
use handspan_core::route::Early;
use handspan_core::time::Ticks;
use handspan_core::tune::Tune;

pub use arranged::{Arranged, Behind};
pub use browse::{Browsing, Shown};
pub use files::Held;
pub use import::{Import, Remark, Role};
pub use lies::Lies;
pub use notice::{Level, Notice, count};
pub use own::{Judgement, NotTaken, OwnGrip};
pub use paper::{Paper, Zoom};
pub use place::Place;
pub use recovery::Found;
pub use route::summary;
pub use routes::{Comparing, ROUTES_COMPARED, Routes};
pub use view::{NeckLabels, NeckView};
pub use voice::Written;
pub use writing::Writing;

use crate::command::{Browse, Command, FileWish, Go, OwnWish, ViewWish};
use crate::folders::Folders;
use crate::job::Lane;
use files::Files;
use recovery::Recovery;
use route::Routing;

/// The state behind one window.
#[derive(Debug)]
pub struct Session {
    history: History,
    /// The work as it was last saved; none where it has never been and would be lost.
    saved: Option<Arc<Work>>,
    lane: Lane,
    routing: Routing,
    browsing: Browsing,
    own: Option<OwnGrip>,
    routes: Routes,
    lies: Lies,
    neck: NeckView,
    files: Files,
    arrangement: Option<Arc<Arrangement>>,
    moment: usize,
    passage: Option<Range<Ticks>>,
    notice: Option<Notice>,
    first_steps: bool,
    place: Place,
    writing: Writing,
    import: Option<Import>,
    paper: Paper,
    recovery: Recovery,
    state: u64,
}

impl Session {
    /// A session on a work that has not been saved; jobs run on the lane.
    pub fn new(work: Work, lane: Lane) -> Self {
        Self::within(work, lane, &Folders::none())
    }

    /// The same, with folders to keep unsaved work in.
    pub fn within(work: Work, lane: Lane, folders: &Folders) -> Self {
        let history = History::new(work);
        let mut session = Self {
            saved: Some(Arc::clone(history.work())),
            history,
            lane,
            routing: Routing::default(),
            browsing: Browsing::default(),
            own: None,
            routes: Routes::default(),
            lies: Lies::default(),
            neck: NeckView::default(),
            files: Files::default(),
            arrangement: None,
            moment: 0,
            passage: None,
            notice: None,
            first_steps: true,
            place: Place::Voicings,
            writing: Writing::default(),
            import: None,
            paper: Paper::default(),
            recovery: Recovery::within(folders.recovery()),
            state: 0,
        };
        session.rearrange(route::Purpose::Changed);
        session
    }

    /// Carries out a wish. Those that need the window itself (dialogs, the theme) are the window's.
    pub fn run(&mut self, command: Command) {
        self.state += 1;
        match command {
            Command::Edit(edit) => {
                self.edit(&edit);
            }
            Command::EditInGesture(edit) => {
                self.edit_in_gesture(edit);
            }
            Command::CloseGesture => self.history.close_gesture(),
            Command::Undo => {
                if self.history.undo() {
                    self.has_changed();
                }
            }
            Command::Redo => {
                if self.history.redo() {
                    self.has_changed();
                }
            }
            Command::Tune(wish) => self.write(wish),
            Command::Neck(place) => match self.place {
                Place::Tune => self.write_from_neck(place),
                // Touches nothing unless a grip is being built.
                Place::Voicings => self.own_wish(OwnWish::Touch(place)),
                Place::Route | Place::Sheet => {}
            },
            Command::Go(go) => self.go(go),
            Command::Browse(browse) => self.browse(browse),
            Command::Own(wish) => self.own_wish(wish),
            Command::Lock(wish) => self.lock(wish),
            Command::Route(wish) => self.route(wish),
            Command::Lie(wish) => self.lie_wish(wish),
            Command::Select(passage) => self.passage = passage.filter(|p| p.start < p.end),
            Command::Widen(wider) => self.widen(wider),
            Command::File(wish) => self.file(wish),
            Command::Recover(wish) => self.recover(wish),
            Command::View(ViewWish::DismissNotice) => self.notice = None,
            Command::View(ViewWish::DismissFirstSteps) => self.first_steps = false,
            Command::View(ViewWish::Place(place)) => {
                self.go_to(place);
                self.engrave();
            }
            Command::Sheet(wish) => self.paper_wish(&wish),
            Command::View(wish) => self.show_on_neck(wish),
            // The window's own.
            Command::Prefer(_) => {}
        }
    }

    /// Whether a command would do something now.
    pub fn can(&self, command: &Command) -> bool {
        match command {
            Command::Undo => self.history.undo_name().is_some(),
            Command::Redo => self.history.redo_name().is_some(),
            Command::Lock(wish) => self.can_lock(*wish),
            Command::Route(wish) => self.can_route(*wish),
            Command::Lie(wish) => self.can_lie_wish(wish),
            Command::Browse(Browse::Everything) => !self.browsing.filter().is_open(),
            Command::Browse(_) => self.browsing.is_current(),
            Command::Own(wish) => self.can_own(*wish),
            Command::Go(_) | Command::File(FileWish::Export(_) | FileWish::ExportTo(_)) => {
                self.arrangement.is_some()
            }
            Command::Sheet(wish) => self.can_read(wish),
            Command::Widen(false) => self.passage.is_some(),
            _ => true,
        }
    }

    /// Takes in what jobs have found; gives whether anything changed.
    pub fn poll(&mut self) -> bool {
        // Each can set off the next: a file opened is arranged, an arrangement is ranked.
        let opened = self.poll_files();
        let arranged = self.poll_route();
        let ranked = self.poll_browsing();
        let compared = self.poll_routes() | self.poll_lies();
        let engraved = self.poll_paper();
        let told = self.keep_unsaved();
        let changed = opened || arranged || ranked || compared || engraved || told;
        self.state += u64::from(changed);
        changed
    }

    /// Carries a change out, or says why it can't be; gives whether it could.
    fn edit(&mut self, edit: &Edit) -> bool {
        self.change(edit, |history| history.apply(edit))
    }

    /// The same within a gesture: changes of one kind in a row are one step.
    fn edit_in_gesture(&mut self, edit: Edit) -> bool {
        self.change(&edit.clone(), |history| history.apply_in_gesture(edit))
    }

    fn change(&mut self, edit: &Edit, apply: impl FnOnce(&mut History) -> bool) -> bool {
        if let Err(fault) = edit.check(self.work()) {
            self.notice = Some(Notice::refused(fault.to_string()));
            return false;
        }
        let locks = self.work().plan.locks.count();
        if apply(&mut self.history) {
            let kept = self.work().plan.locks.count();
            self.tell_released(edit, locks.saturating_sub(kept));
            self.has_changed();
        }
        true
    }

    /// Says that locks could not outlive a change.
    fn tell_released(&mut self, edit: &Edit, released: usize) {
        let why = match edit {
            Edit::Transpose(_) | Edit::Instrument(_) | Edit::Lie(_) => "the notes lie elsewhere now",
            Edit::Tune(_) => "what was locked there is no longer in the tune",
            _ => return,
        };
        if released > 0 {
            let locks = count(released, "lock was", "locks were");
            self.notice = Some(Notice::told(format!("{locks} released: {why}; undo brings them back")));
        }
    }

    /// The work is another now: what was told of the one before or refused for it is settled, caret and passage stay
    /// within it, and it is arranged anew.
    fn has_changed(&mut self) {
        self.notice = self.notice.take().filter(|notice| notice.level == Level::Failed);
        let end = self.work().tune.end();
        self.passage = self.passage.take().map(|p| p.start..p.end.min(end)).filter(|p| p.start < p.end);
        if self.writing.caret() > end {
            self.writing.stand_at(end);
        }
        self.leave_stale_lies();
        self.rearrange(route::Purpose::Changed);
    }

    fn go(&mut self, go: Go) {
        let Some(arrangement) = self.arrangement.clone() else {
            return;
        };
        let last = arrangement.moments.len().saturating_sub(1);
        let target = match go {
            Go::Next => self.moment + 1,
            Go::Previous => self.moment.saturating_sub(1),
            Go::First => 0,
            Go::Last => last,
            Go::To(at) => arrangement.moment_index(at),
            Go::NextBar => first_from(&arrangement, self.bar(self.playhead()).end),
            Go::PreviousBar => {
                let bar = self.bar(self.playhead());
                let at_its_start = first_from(&arrangement, bar.start) == self.moment;
                let before = self.bar(bar.start - Ticks::new(1)).start;
                first_from(&arrangement, if at_its_start { before } else { bar.start })
            }
        };
        self.stand_at(target.min(last));
        self.writing.stand_at(self.playhead());
    }

    fn stand_at(&mut self, moment: usize) {
        if moment != self.moment {
            self.moment = moment;
            self.rank();
        }
    }

    fn widen(&mut self, wider: bool) {
        let here = self.bar(self.playhead());
        self.passage = match (self.passage.take(), wider) {
            (None, true) => Some(here),
            (Some(p), true) => Some(p.start..self.bar(p.end).end.max(p.end)),
            (Some(p), false) => {
                let end = self.bar(p.end - Ticks::new(1)).start;
                (p.start < end).then_some(p.start..end)
            }
            (None, false) => None,
        };
    }

    /// From when until when the bar lasts that holds a time.
    pub fn bar(&self, at: Ticks) -> Range<Ticks> {
        let tune = self.tune();
        let bar = &tune.bars()[tune.bar_index(at.max(Ticks::ZERO))];
        bar.start..bar.end()
    }

    /// The work as it is now.
    pub fn work(&self) -> &Work {
        self.history.work()
    }

    /// The steps that can be taken back and done again.
    pub const fn history(&self) -> &History {
        &self.history
    }

    /// The arrangement last found; the work may have moved on while [`Self::progress`] says so.
    pub fn arrangement(&self) -> Option<&Arrangement> {
        self.arrangement.as_deref()
    }

    /// The tune as it sounds: transposed once it is arranged.
    pub fn tune(&self) -> &Tune {
        self.arrangement.as_ref().map_or(&self.history.work().tune, |a| &a.score.tune)
    }

    /// The index of the moment where the player stands.
    pub const fn moment_index(&self) -> usize {
        self.moment
    }

    /// The moment where the player stands.
    pub fn moment(&self) -> Option<&Moment> {
        self.arrangement()?.moments.get(self.moment)
    }

    /// The fingers that may be down already for a later moment, while the route's own grip is shown.
    pub fn early_here(&self) -> impl Iterator<Item = &Early> {
        let is_routes = self.shown().is_some_and(|shown| !shown.is_preview) && self.own.is_none();
        let arrangement = self.arrangement().filter(|_| is_routes);
        arrangement.into_iter().flat_map(|arrangement| arrangement.early_at(self.moment))
    }

    /// The moment before.
    pub fn moment_before(&self) -> Option<&Moment> {
        self.arrangement()?.moments.get(self.moment.checked_sub(1)?)
    }

    /// The time of the moment where the player stands.
    pub fn playhead(&self) -> Ticks {
        self.moment().map_or(Ticks::ZERO, |m| m.at)
    }

    /// The passage that is selected.
    pub const fn passage(&self) -> Option<&Range<Ticks>> {
        self.passage.as_ref()
    }

    /// The list of grips of this moment.
    pub const fn browsing(&self) -> &Browsing {
        &self.browsing
    }

    /// What there is to say.
    pub const fn notice(&self) -> Option<&Notice> {
        self.notice.as_ref()
    }

    /// Says something.
    pub fn tell(&mut self, notice: Notice) {
        self.notice = Some(notice);
        self.state += 1;
    }

    /// Counts everything that has happened, so that what was made from the session is known to be out of date.
    pub const fn state(&self) -> u64 {
        self.state
    }

    /// Whether to say what to try first.
    pub const fn first_steps(&self) -> bool {
        self.first_steps
    }

    /// The pages as they print.
    pub const fn paper(&self) -> &Paper {
        &self.paper
    }

    /// Where jobs run.
    pub const fn lane(&self) -> &Lane {
        &self.lane
    }

    /// What the middle of the window is for.
    pub const fn place(&self) -> Place {
        self.place
    }

    /// Whether something would be lost by leaving.
    pub fn is_unsaved(&self) -> bool {
        self.saved
            .as_ref()
            .is_none_or(|saved| !Arc::ptr_eq(saved, self.history.work()) && **saved != **self.history.work())
    }

    /// The file that the project is saved in or the tune came from.
    pub fn file_path(&self) -> Option<&Path> {
        self.files.path()
    }

    /// Where saving goes without asking.
    pub fn save_path(&self) -> Option<PathBuf> {
        self.files.project_path()
    }

    /// The window's title: what is worked on, and a dot where it has not been saved.
    pub fn title(&self) -> String {
        let dot = if self.is_unsaved() { "• " } else { "" };
        let name = match self.tune().title() {
            "" => "Untitled tune",
            title => title,
        };
        format!("{dot}{name} – Handspan")
    }
}

/// The first moment at a time or after it; the last one where there is none.
fn first_from(arrangement: &Arrangement, at: Ticks) -> usize {
    let index = arrangement.moments.partition_point(|m| m.at < at);
    index.min(arrangement.moments.len().saturating_sub(1))
}

#[cfg(test)]
impl Session {
    /// A session on the demo tune, arranged and ranked.
    pub(crate) fn on_demo() -> Self {
        let mut session = Self::new(crate::demo::work(), Lane::Inline);
        session.settle();
        session
    }

    /// Carries out a command and waits for what it sets off.
    pub(crate) fn after(mut self, command: Command) -> Self {
        self.run(command);
        self.settle();
        self
    }

    fn settle(&mut self) {
        while self.poll() {}
    }
}
