//! Forms are filled in and answered by the keyboard alone.

use std::path::PathBuf;

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::{Command, FileWish, ViewWish};
use handspan_app::folders::Folders;
use handspan_core::arrangement::Edit;
use handspan_core::hand::{Hand, HandSize};

fn strings(walk: &Walk) -> usize {
    walk.session().work().plan.instrument.string_count()
}

/// Types in place of what stands in the field that has the focus.
fn type_over(walk: &mut Walk, text: &str) {
    walk.press(Modifiers::COMMAND, Key::A);
    walk.window.event(eframe::egui::Event::Text(text.to_owned()));
    walk.window.run_steps(4);
}

#[test]
fn a_guitar_is_set_up_by_typing_and_enter() {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::View(ViewWish::Guitar));
    // What is wrong is not taken, and the dialog stays.
    type_over(&mut walk, "E H A");
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(walk.shows("Set up the guitar") && strings(&walk) == 6);
    walk.press(Modifiers::NONE, Key::Escape);
    walk.wish(Command::View(ViewWish::Guitar));
    type_over(&mut walk, "B E A D G B E");
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(!walk.shows("Set up the guitar"));
    assert_eq!(strings(&walk), 7);
}

#[test]
fn a_known_tuning_is_chosen_by_its_name_and_enter_on_a_button_means_the_button() {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::View(ViewWish::Guitar));
    walk.click("Known tunings");
    walk.click("DADGAD");
    walk.window.get_by_label("8 strings").focus();
    walk.window.run_steps(2);
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(walk.shows("8 strings: G1 D2") || walk.shows("8 strings: E1 A1 D2"), "a fourth below each");
    assert_eq!(strings(&walk), 6, "nothing is set up yet");
    walk.click("6 strings");
    walk.click("Use this guitar");
    assert_eq!(walk.session().work().plan.instrument.tuning().name(), "DADGAD");
}

#[test]
fn a_new_tune_is_begun_by_enter() {
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::COMMAND, Key::N);
    walk.window.event(eframe::egui::Event::Text("Low Tide".to_owned()));
    walk.window.run_steps(4);
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(!walk.shows("A new tune"));
    assert!(walk.session().title().contains("Low Tide"));
}

/// A window on changed work that is asked to open another tune, where somebody chose to save first.
fn saving_first() -> Walk {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::Edit(Edit::Hand(Hand { size: HandSize::Small, ..Hand::default() })));
    let other =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/lantern-on-the-quay.musicxml");
    walk.wish(Command::File(FileWish::OpenAt(other)));
    walk.click("Save first");
    assert!(walk.shows("Where shall the project be saved?"));
    walk
}

#[test]
fn what_was_asked_for_goes_on_once_the_work_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut walk = saving_first();
    let path = folder.path().join("gangway.handspan");
    type_over(&mut walk, &path.display().to_string());
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(path.exists());
    assert_eq!(walk.session().tune().title(), "Lantern on the Quay");
}

#[test]
fn what_was_asked_for_is_forgotten_where_nothing_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut walk = saving_first();
    walk.click("Not now");
    assert!(walk.session().is_unsaved());
    walk.wish(Command::File(FileWish::SaveAt(folder.path().join("gangway.handspan"))));
    assert!(!walk.session().is_unsaved());
    assert_eq!(walk.session().tune().title(), "Gangway at Six");
}
