//! A player reads the sheet as it prints, turns its pages, chooses what stands on it and takes it along.

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use handspan_app::command::{Command, FileWish};
use handspan_app::file::Kind;
use handspan_app::folders::Folders;
use handspan_app::session::{Place, Zoom};
use handspan_core::arrangement::Edit;
use handspan_core::pitch::Interval;

#[test]
fn the_sheet_is_read_chosen_and_exported() {
    let folder = tempfile::tempdir().unwrap();
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::COMMAND, Key::Num4);
    assert_eq!(walk.session().place(), Place::Sheet);
    assert!(walk.shows("Page 1 of 2: Gangway at Six"));
    walk.click("Next page");
    assert_eq!(walk.session().paper().page(), 1);
    walk.press(Modifiers::COMMAND, Key::PageUp);
    assert_eq!(walk.session().paper().page(), 0);
    walk.press(Modifiers::SHIFT, Key::W);
    assert_eq!(walk.session().paper().zoom(), Zoom::Page);
    walk.press(Modifiers::NONE, Key::Plus);
    assert!(matches!(walk.session().paper().zoom(), Zoom::Percent(_)));
    walk.click("Chord boxes");
    assert!(walk.shows("Page 1 of 1: Gangway at Six"));
    // What is chosen for the screen is what is exported.
    let path = folder.path().join("boxes.svg");
    walk.wish(Command::File(FileWish::ExportTo(path.clone())));
    assert!(std::fs::read_to_string(path).unwrap().contains("chord box"));
    assert!(walk.shows("Exported to"));
}

#[test]
fn an_old_sheet_says_that_it_is_old() {
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::COMMAND, Key::Num4);
    walk.wish(Command::Edit(Edit::Transpose(Interval::new(24))));
    assert!(walk.shows("these pages show the piece before the last change"));
    // No path is asked for what would be refused.
    walk.wish(Command::File(FileWish::Export(Kind::Pdf)));
    assert!(walk.shows("Nothing was exported") && !walk.shows("Export this file"));
    walk.press(Modifiers::COMMAND, Key::Z);
    assert!(!walk.shows("before the last change") && !walk.shows("beyond this instrument"));
    assert!(walk.shows("Page 1 of 2: Gangway at Six"));
}
