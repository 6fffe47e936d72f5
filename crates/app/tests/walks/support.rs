//! A window for walks: no display, no clock, jobs run in place.

use std::path::PathBuf;

use eframe::egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::Command;
use handspan_app::folders::Folders;
use handspan_app::job::Lane;
use handspan_app::session::Session;
use handspan_app::window::App;

/// Enough frames for a command to run, its job to answer and the answer to be drawn.
const FRAMES: usize = 8;

/// The window and what a player does with it.
pub(crate) struct Walk {
    pub(crate) window: Harness<'static, App>,
}

impl Walk {
    /// A window on the demo tune that keeps what it keeps in the folders.
    pub(crate) fn within(folders: Folders) -> Self {
        Self::on(folders, None)
    }

    /// The same on a file where one is given.
    pub(crate) fn on(folders: Folders, file: Option<PathBuf>) -> Self {
        let mut window = Harness::builder()
            .with_size([1280.0, 800.0])
            .build_eframe(|cc| App::within(&cc.egui_ctx, Lane::Inline, folders, file));
        window.run_steps(FRAMES);
        Self { window }
    }

    /// A window of a size in points: large text leaves few of them.
    pub(crate) fn sized(width: f32, height: f32) -> Self {
        let mut window = Harness::builder()
            .with_size([width, height])
            .build_eframe(|cc| App::on(&cc.egui_ctx, Lane::Inline));
        window.run_steps(FRAMES);
        Self { window }
    }

    pub(crate) fn press(&mut self, modifiers: Modifiers, key: Key) {
        self.window.key_press_modifiers(modifiers, key);
        self.window.run_steps(FRAMES);
    }

    pub(crate) fn wish(&mut self, command: Command) {
        self.window.state_mut().wish(command);
        self.window.run_steps(FRAMES);
    }

    pub(crate) fn click(&mut self, label: &str) {
        self.window.get_by_label(label).click();
        self.window.run_steps(FRAMES);
    }

    pub(crate) fn shows(&self, label: &str) -> bool {
        self.window.query_all_by_label_contains(label).next().is_some()
    }

    pub(crate) fn session(&self) -> &Session {
        self.window.state().session()
    }
}
