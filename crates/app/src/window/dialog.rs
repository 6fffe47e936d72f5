//! Asking for paths, and asking before something is lost.
//!
//! File dialogs are the desktop's own. Where it has none, the path is typed.

use std::path::{Path, PathBuf};

use eframe::egui::{Context, Key, TextEdit, Ui, ViewportCommand};

use crate::command::{Command, FileWish};
use crate::file::{Kind, PROJECT};
use crate::panels::widgets::{modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// What is being asked.
#[derive(Debug)]
pub(super) struct Dialogs {
    /// Whether the desktop's own dialogs are tried; where jobs run in place nobody is there to answer them.
    of_desktop: bool,
    typing: Option<Typing>,
    leaving: Option<Leaving>,
    /// What goes on once the work is saved.
    after_saving: Option<Leaving>,
    left: bool,
}

/// A path that is being typed.
#[derive(Debug)]
struct Typing {
    purpose: Purpose,
    path: String,
}

/// What a path is wanted for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Purpose {
    Open,
    Save,
    Export(Kind),
}

/// How a question for a path is answered.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Answer {
    Open,
    Given,
    NotNow,
}

/// What would lose unsaved work.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Leaving {
    Close,
    For(FileWish),
}

impl Purpose {
    fn command(self, path: PathBuf) -> Command {
        Command::File(match self {
            Self::Open => FileWish::OpenAt(path),
            Self::Save => FileWish::SaveAt(path),
            Self::Export(_) => FileWish::ExportTo(path),
        })
    }

    const fn question(self) -> &'static str {
        match self {
            Self::Open => "Which file shall be opened?",
            Self::Save => "Where shall the project be saved?",
            Self::Export(_) => {
                "Where shall the sheet go? The ending says what it is: .pdf, .svg, .png or .musicxml"
            }
        }
    }

    /// Asks by the desktop's own dialog; none when it was closed, or when there is no such dialog.
    fn ask(self, start: &Path) -> Option<PathBuf> {
        let dialog = rfd::FileDialog::new().set_title(self.question());
        let named =
            |ending: &str| start.with_extension(ending).file_name().map(|n| n.to_string_lossy().into_owned());
        match self {
            Self::Open => dialog
                .add_filter("Lead sheets and projects", &["musicxml", "mxl", "xml", PROJECT])
                .pick_file(),
            Self::Save => dialog
                .add_filter("Handspan project", &[PROJECT])
                .set_file_name(named(PROJECT).unwrap_or_default())
                .save_file(),
            Self::Export(kind) => dialog
                .add_filter("Fingering sheet", &[kind.ending()])
                .set_file_name(named(kind.ending()).unwrap_or_default())
                .save_file(),
        }
    }
}

impl Dialogs {
    pub(super) const fn new(of_desktop: bool) -> Self {
        Self { of_desktop, typing: None, leaving: None, after_saving: None, left: false }
    }

    /// Whether a question is open.
    pub(super) const fn are_open(&self) -> bool {
        self.typing.is_some() || self.leaving.is_some()
    }

    /// Asks what a command needs to know first, or carries it out.
    pub(super) fn or_run(&mut self, command: Command, session: &mut Session, queue: &mut Queue) {
        match command {
            Command::File(FileWish::Open) => self.ask(Purpose::Open, session, queue),
            Command::File(FileWish::Save) if session.save_path().is_none() => {
                self.ask(Purpose::Save, session, queue);
            }
            Command::File(FileWish::SaveAs) => self.ask(Purpose::Save, session, queue),
            Command::File(FileWish::Export(kind)) if session.behind().is_none() => {
                self.ask(Purpose::Export(kind), session, queue);
            }
            Command::File(wish @ (FileWish::OpenAt(_) | FileWish::ReadParts(_) | FileWish::Begin(_)))
                if session.is_unsaved() && self.leaving.is_none() =>
            {
                self.leaving = Some(Leaving::For(wish));
            }
            other => {
                self.leaving = None;
                // Whoever goes on with the work, be it that it could not be saved, stays with it.
                if !matches!(other, Command::File(FileWish::Save | FileWish::SaveAt(_))) {
                    self.after_saving = None;
                }
                session.run(other);
            }
        }
    }

    fn ask(&mut self, purpose: Purpose, session: &Session, queue: &mut Queue) {
        let start = start(session);
        if let Some(path) = self.of_desktop.then(|| purpose.ask(&start)).flatten() {
            queue.push(purpose.command(path));
            return;
        }
        // A dialog that was closed and a desktop without dialogs look alike: typing is offered for both.
        let path = match purpose {
            Purpose::Open => String::new(),
            Purpose::Save => start.with_extension(PROJECT).display().to_string(),
            Purpose::Export(kind) => start.with_extension(kind.ending()).display().to_string(),
        };
        self.typing = Some(Typing { purpose, path });
    }

    /// Draws what is being asked.
    pub(super) fn show(&mut self, ctx: &Context, look: &Look, session: &Session, queue: &mut Queue) {
        if let Some(mut typing) = self.typing.take() {
            match typing.show(ctx, look, queue) {
                Answer::Open => self.typing = Some(typing),
                Answer::Given => {}
                Answer::NotNow => self.after_saving = None,
            }
        }
        if !session.is_unsaved()
            && let Some(leaving) = self.after_saving.take()
        {
            self.leave(leaving, queue);
        }
        if let Some(leaving) = self.leaving.clone() {
            self.show_leaving(ctx, look, &leaving, session, queue);
        }
    }

    fn show_leaving(
        &mut self,
        ctx: &Context,
        look: &Look,
        leaving: &Leaving,
        session: &Session,
        queue: &mut Queue,
    ) {
        let shown = modal("leaving", ctx).show(ctx, |ui| {
            ui.set_width(420.0);
            ui.label(weighty(look.sizes.head, "Some changes have not been saved"));
            ui.add_space(2.0 * STEP);
            ui.label(quiet(look, session.title().trim_start_matches("• ")));
            ui.add_space(4.0 * STEP);
            ui.horizontal(|ui| {
                if ui.button("Save first").clicked() {
                    self.after_saving = self.leaving.take();
                    queue.push(Command::File(FileWish::Save));
                }
                let without = match leaving {
                    Leaving::Close => "Close without saving",
                    Leaving::For(FileWish::Begin(_)) => "Begin without saving",
                    Leaving::For(FileWish::ReadParts(_)) => "Read anew without saving",
                    Leaving::For(_) => "Open without saving",
                };
                if ui.button(without).clicked() {
                    self.leave(leaving.clone(), queue);
                }
                if ui.button("Stay").clicked() {
                    self.leaving = None;
                }
            });
        });
        if shown.should_close() {
            self.leaving = None;
        }
    }

    fn leave(&mut self, leaving: Leaving, queue: &mut Queue) {
        match leaving {
            Leaving::Close => self.left = true,
            Leaving::For(wish) => queue.push(Command::File(wish)),
        }
    }

    /// Holds the window open for as long as something would be lost; gives whether it may close now.
    pub(super) fn may_close(&mut self, ctx: &Context, session: &Session) -> bool {
        let asked = ctx.input(|input| input.viewport().close_requested());
        if asked && session.is_unsaved() && !self.left {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.leaving = Some(Leaving::Close);
        }
        self.left && !asked
    }
}

impl Typing {
    /// Draws the question; gives how it is answered.
    fn show(&mut self, ctx: &Context, look: &Look, queue: &mut Queue) -> Answer {
        let mut answer = Answer::Open;
        let shown = modal("path", ctx).show(ctx, |ui| {
            ui.set_width(520.0);
            let label = ui.label(weighty(look.sizes.head, self.purpose.question()));
            ui.add_space(2.0 * STEP);
            let field = TextEdit::singleline(&mut self.path).desired_width(f32::INFINITY);
            let response = ui.add(field).labelled_by(label.id);
            if !response.has_focus() && !response.lost_focus() {
                response.request_focus();
            }
            let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            ui.add_space(4.0 * STEP);
            answer = self.answer(ui, entered, queue);
        });
        if answer == Answer::Open && shown.should_close() { Answer::NotNow } else { answer }
    }

    fn answer(&self, ui: &mut Ui, entered: bool, queue: &mut Queue) -> Answer {
        ui.horizontal(|ui| {
            let verb = match self.purpose {
                Purpose::Open => "Open",
                Purpose::Save => "Save",
                Purpose::Export(_) => "Export",
            };
            let named = !self.path.trim().is_empty();
            // Named apart from the bar's buttons of the same verb.
            let button = ui.add_enabled(named, eframe::egui::Button::new(format!("{verb} this file")));
            if named && (button.clicked() || entered) {
                queue.push(self.purpose.command(PathBuf::from(self.path.trim())));
                return Answer::Given;
            }
            if ui.button("Not now").clicked() { Answer::NotNow } else { Answer::Open }
        })
        .inner
    }
}

/// The file that names of new ones are made from.
fn start(session: &Session) -> PathBuf {
    session.file_path().map_or_else(
        || {
            let title = session.tune().title();
            let name: String = title.chars().filter(|c| c.is_alphanumeric() || *c == ' ').collect();
            PathBuf::from(if name.trim().is_empty() { "tune".to_owned() } else { name })
        },
        Path::to_path_buf,
    )
}
