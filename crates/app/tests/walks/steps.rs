//! Steps that the walks share: a window without a display whose jobs run in place, its keys and its buttons.

use eframe::egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::Command;
use handspan_app::job::Lane;
use handspan_app::session::Session;
use handspan_app::window::App;

/// Enough frames for a command to run, its job to answer and the answer to be drawn.
const FRAMES: usize = 6;

/// The window as it opens at 1280 by 800 points.
pub(crate) fn window() -> Harness<'static, App> {
    let mut window =
        Harness::builder().with_size([1280.0, 800.0]).build_eframe(|cc| App::on(&cc.egui_ctx, Lane::Inline));
    window.run_steps(FRAMES);
    window
}

/// Carries out a command.
pub(crate) fn wish(window: &mut Harness<'_, App>, command: Command) {
    window.state_mut().wish(command);
    window.run_steps(FRAMES);
}

/// Presses a key.
pub(crate) fn press(window: &mut Harness<'_, App>, key: Key) {
    press_with(window, Modifiers::NONE, key);
}

/// Presses a key with others held.
pub(crate) fn press_with(window: &mut Harness<'_, App>, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run_steps(FRAMES);
}

/// Clicks what carries this label.
pub(crate) fn click(window: &mut Harness<'_, App>, label: &str) {
    window.get_by_label(label).click();
    window.run_steps(FRAMES);
}

/// Clicks the first thing whose label begins so.
pub(crate) fn click_first(window: &mut Harness<'_, App>, beginning: &str) {
    window.get_all_by_label_contains(beginning).next().expect(beginning).click();
    window.run_steps(FRAMES);
}

/// Whether anything carries a label that has this in it.
pub(crate) fn is_said(window: &Harness<'_, App>, part: &str) -> bool {
    window.query_all_by_label_contains(part).next().is_some()
}

/// The state behind the window.
pub(crate) fn session<'a>(window: &'a Harness<'_, App>) -> &'a Session {
    window.state().session()
}
