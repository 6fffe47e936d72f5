//! The main walk by keyboard alone: find a command, step, browse, take, lock, look at the sheet, export.

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use handspan_app::folders::Folders;
use handspan_app::session::Place;

#[test]
fn keys_belong_to_an_open_list_alone_and_escape_closes_it() {
    let mut walk = Walk::within(Folders::none());
    let before = walk.session().shown().expect("a grip is shown").grip;
    walk.click("2 notes gave way");
    assert!(walk.shows("bar 12, beat 1"));
    walk.press(Modifiers::NONE, Key::ArrowDown);
    assert_eq!(walk.session().shown().unwrap().grip, before, "no other grip is looked at");
    walk.press(Modifiers::NONE, Key::Escape);
    assert!(!walk.shows("bar 12, beat 1"));
}

#[test]
fn the_main_walk_needs_no_mouse() {
    let folder = tempfile::tempdir().unwrap();
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::COMMAND, Key::ArrowRight);
    walk.press(Modifiers::NONE, Key::ArrowDown);
    let looked_at = walk.session().shown().expect("a grip is shown");
    assert!(looked_at.is_preview);
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(walk.session().lock_here().grip.is_some());
    walk.press(Modifiers::NONE, Key::M);
    assert!(walk.session().lock_here().melody.is_some());
    // By name: the search takes letters, arrows and Enter.
    walk.press(Modifiers::NONE, Key::Slash);
    assert!(walk.shows("What would you like to do?"));
    walk.window.event(eframe::egui::Event::Text("sheet".to_owned()));
    walk.press(Modifiers::NONE, Key::Enter);
    assert_eq!(walk.session().place(), Place::Sheet);
    assert!(!walk.shows("What would you like to do?"));
    // No desktop answers the question for a path, so it is typed.
    walk.press(Modifiers::COMMAND, Key::E);
    assert!(walk.shows("Where shall the sheet go?"));
    let path = folder.path().join("walked.pdf");
    walk.press(Modifiers::COMMAND, Key::A);
    walk.window.event(eframe::egui::Event::Text(path.display().to_string()));
    walk.press(Modifiers::NONE, Key::Enter);
    assert!(std::fs::metadata(&path).unwrap().len() > 1000);
    walk.press(Modifiers::COMMAND, Key::Z);
    walk.press(Modifiers::COMMAND, Key::Z);
    assert!(walk.session().lock_here().is_empty());
}
