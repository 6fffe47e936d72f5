//! A player clicks through a melody chord by chord and browses voicings with the melody locked.

use crate::steps::{click, click_first, is_said, press, press_with, session, window, wish};
use eframe::egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::{Browse, Command};
use handspan_core::arrangement::Edit;
use handspan_core::grip::Filter;
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Pitch;

#[test]
fn chord_by_chord_with_the_melody_locked() {
    let mut window = window();
    let mut locked = 0;
    for _ in 0..8 {
        press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
        // A bar may begin with a rest of the melody.
        let Some(place) = session(&window).melody_place() else { continue };
        press(&mut window, Key::M);
        assert_eq!(session(&window).lock_here().melody, Some(place.string));
        // The list follows: whatever is looked at has the melody there.
        for _ in 0..3 {
            press(&mut window, Key::ArrowDown);
            assert_eq!(session(&window).melody_place(), Some(place));
        }
        let looked_at = session(&window).shown().unwrap();
        assert!(looked_at.is_preview);
        press(&mut window, Key::Enter);
        let moment = session(&window).moment().unwrap();
        assert_eq!(moment.grip.only(moment.struck), session(&window).lock_here().grip.unwrap());
        locked += 1;
    }
    assert!(locked >= 3, "{locked}");
    assert_eq!(session(&window).work().plan.locks.len(), locked);
}

#[test]
fn cards_are_clicked_filtered_and_shown_again() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    let all = session(&window).browsing().of();
    assert_eq!(session(&window).browsing().grips().len(), all);
    click(&mut window, "no barre");
    let left = session(&window).browsing().grips().len();
    assert!(left < all);
    assert!(is_said(&window, &format!("{left} of {all} shown")));
    click_first(&mut window, "Grip 2: ");
    assert!(session(&window).shown().unwrap().is_preview);
    click(&mut window, "Show all");
    assert!(session(&window).browsing().filter().is_open());
    assert_eq!(session(&window).browsing().grips().len(), all);
}

#[test]
fn nothing_that_passes_is_said_and_undone_by_one_click() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    let none = Filter { notes: Some(1..=1), ..Filter::default() };
    wish(&mut window, Command::Browse(Browse::Only(none)));
    // The grip of the route keeps its row, but is told apart and not counted.
    assert_eq!(session(&window).browsing().grips().len(), 1);
    assert!(is_said(&window, "No grip passes the filters"));
    assert!(is_said(&window, "Grip 1: ") && is_said(&window, "does not pass the filter"));
    let of = session(&window).browsing().of();
    assert!(is_said(&window, &format!("0 of {of} shown")));
    click(&mut window, "Show all");
    assert!(session(&window).browsing().grips().len() > 10);
}

#[test]
fn only_the_cards_in_sight_are_made() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    let low_to_high = [30, 35, 40, 45, 50, 55, 59, 64].map(Pitch::new);
    let tuning = Tuning::from_low_to_high("eight strings", low_to_high);
    let eight = Instrument::try_new(tuning, 19, Instrument::CLASSICAL_SCALE, 0).unwrap();
    wish(&mut window, Command::Edit(Edit::Instrument(eight)));
    let rows = session(&window).browsing().grips().len();
    let cards = window.query_all_by_role(Role::ListBoxOption).count();
    assert!(rows > 100 && cards > 0 && cards < 30, "{cards} cards of {rows}");
    // The last one comes into sight when it is looked at.
    wish(&mut window, Command::Browse(Browse::Row(rows - 1)));
    assert!(is_said(&window, &format!("Grip {rows}: ")));
}
