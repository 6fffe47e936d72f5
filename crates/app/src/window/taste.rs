//! Preferences at work: how the window looks by them, and when they are kept.

use eframe::egui::{Context, Theme as Side, ThemePreference};

use crate::command::{Command, Preference, ViewWish};
use crate::folders::Folders;
use crate::preferences::{Preferences, Surroundings};
use crate::session::{Notice, Session};

/// The preferences of the window, as they are and as they were last kept.
#[derive(Debug)]
pub(super) struct Taste {
    pub(super) preferences: Preferences,
    kept: Preferences,
    folders: Folders,
}

impl Taste {
    /// What was preferred last, and what there is to say about it.
    pub(super) fn read(folders: Folders) -> (Self, Option<String>) {
        let (preferences, sentence) = Preferences::read(&folders);
        (Self { kept: preferences.clone(), preferences, folders }, sentence)
    }

    /// Carries out a wish.
    pub(super) fn prefer(&mut self, preference: Preference, ctx: &Context) {
        let now = &mut self.preferences;
        match preference {
            Preference::OtherSurroundings => {
                now.surroundings = match ctx.theme() {
                    Side::Dark => Surroundings::Light,
                    Side::Light => Surroundings::Dark,
                };
            }
            Preference::Surroundings(surroundings) => now.surroundings = surroundings,
            Preference::TextLarger(larger) => now.text = now.text_stepped(larger),
            Preference::Text(percent) => now.text = percent,
            Preference::LessMotion => now.less_motion = !now.less_motion,
        }
        self.show(ctx);
    }

    /// Gives the window the look that is preferred.
    pub(super) fn show(&self, ctx: &Context) {
        ctx.set_theme(match self.preferences.surroundings {
            Surroundings::System => ThemePreference::System,
            Surroundings::Light => ThemePreference::Light,
            Surroundings::Dark => ThemePreference::Dark,
        });
        ctx.set_zoom_factor(f32::from(self.preferences.text) / 100.0);
        let seconds = if self.preferences.less_motion { 0.0 } else { crate::theme::GLIDE };
        ctx.all_styles_mut(|style| style.animation_time = seconds);
    }

    /// Shows the neck as it was shown last.
    pub(super) fn show_neck(&self, session: &mut Session) {
        session.run(Command::View(ViewWish::Labels(self.preferences.labels)));
        if self.preferences.left_handed {
            session.run(Command::View(ViewWish::LeftHanded));
        }
    }

    /// Notes what is worth remembering of the session.
    pub(super) fn note(&mut self, session: &Session) {
        let now = &mut self.preferences;
        now.knows_first_steps |= !session.first_steps();
        let neck = session.neck_view();
        (now.labels, now.left_handed) = (neck.labels, neck.left_handed);
        if let Some(path) = session.file_path().filter(|path| now.last_file.as_deref() != Some(path)) {
            now.last_file = Some(path.to_path_buf());
        }
    }

    /// Keeps the preferences where they have changed; gives what there is to say where that was not possible.
    pub(super) fn keep(&mut self) -> Option<Notice> {
        // The window's size is kept when it closes; nobody wants a file written while dragging a corner.
        let same = Preferences { window: self.kept.window, ..self.preferences.clone() } == self.kept;
        if same { None } else { self.keep_all() }
    }

    /// Keeps the preferences as they are, the window's size among them.
    pub(super) fn keep_all(&mut self) -> Option<Notice> {
        self.kept = self.preferences.clone();
        self.preferences.write(&self.folders).err().map(Notice::failed)
    }
}
