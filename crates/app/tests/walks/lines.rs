//! A player marks a hook among the melody, writes a note of the bass line, and takes both back.

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use handspan_app::folders::Folders;
use handspan_core::demand::Part;
use handspan_core::tune::Line;

fn notes_of(walk: &Walk, line: Line) -> usize {
    walk.session().tune().lines().iter().filter(|note| note.line == line).count()
}

fn plays(walk: &Walk, part: Part) -> bool {
    let arrangement = walk.session().arrangement().expect("the tune is arranged");
    arrangement.score.notes.iter().any(|note| note.part == part)
}

#[test]
fn a_hook_is_marked_and_a_bass_note_written() {
    let mut walk = Walk::within(Folders::none());
    let melody = walk.session().tune().melody().len();
    walk.press(Modifiers::COMMAND, Key::Num1);
    for _ in 0..3 {
        walk.press(Modifiers::NONE, Key::ArrowRight);
    }
    walk.press(Modifiers::ALT, Key::H);
    assert_eq!(notes_of(&walk, Line::Hook), 1);
    assert_eq!(walk.session().tune().melody().len(), melody - 1);
    assert!(plays(&walk, Part::Hook));
    walk.press(Modifiers::SHIFT, Key::B);
    walk.press(Modifiers::NONE, Key::G);
    assert_eq!(notes_of(&walk, Line::Bass), 1);
    walk.press(Modifiers::COMMAND, Key::Z);
    walk.press(Modifiers::COMMAND, Key::Z);
    assert!(walk.session().tune().lines().is_empty());
    assert_eq!(walk.session().tune().melody().len(), melody);
    assert!(!plays(&walk, Part::Hook));
}
