//! The program ends without warning; the work is offered back. Nothing touches the user's own folders.

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use handspan_app::folders::Folders;
use handspan_app::session::NeckLabels;

#[test]
fn work_is_offered_back_after_a_crash_and_preferences_are_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let folders = Folders::within(folder.path());
    let mut walk = Walk::within(folders.clone());
    walk.click("Got it");
    walk.press(Modifiers::COMMAND, Key::ArrowRight);
    walk.press(Modifiers::NONE, Key::L);
    walk.press(Modifiers::COMMAND, Key::Plus);
    walk.press(Modifiers::NONE, Key::N);
    walk.press(Modifiers::SHIFT, Key::L);
    let work = walk.session().work().clone();
    assert!(walk.session().is_unsaved());
    // The window is gone, and nobody has been asked anything.
    drop(walk);
    let mut walk = Walk::within(folders);
    assert!(!walk.session().first_steps());
    let neck = walk.session().neck_view();
    assert_eq!((neck.labels, neck.left_handed), (NeckLabels::Notes, true));
    assert!((walk.window.ctx.zoom_factor() - 1.15).abs() < 0.001);
    assert!(walk.shows("There is unsaved work on Gangway at Six"));
    walk.click("Take it back");
    assert_eq!(*walk.session().work(), work);
    assert!(walk.session().is_unsaved());
    assert!(!walk.shows("There is unsaved work"));
}
