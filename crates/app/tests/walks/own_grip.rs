//! A player builds a grip of their own: one that can be held and is locked, and an impossible one.

use crate::steps::{click, is_said, press, press_with, session, window};
use eframe::egui::{Key, Modifiers};
use handspan_app::session::Judgement;
use handspan_core::grip::Voicing;

fn own(window: &egui_kittest::Harness<'_, handspan_app::window::App>) -> Voicing {
    session(window).own().expect("a grip is being built").voicing
}

#[test]
fn a_grip_is_built_by_keys_and_locked() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    let melody = session(&window).melody_place().unwrap();
    press(&mut window, Key::O);
    assert!(is_said(&window, "Your own grip"));
    press_with(&mut window, Modifiers::SHIFT, Key::Backspace);
    assert!(own(&window).is_empty());
    // The melody note on its string, an open string beneath.
    let digits = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6];
    press(&mut window, digits[melody.string.index()]);
    for _ in 0..=melody.fret.number() {
        press(&mut window, Key::ArrowRight);
    }
    assert_eq!(own(&window).fret(melody.string), Some(melody.fret));
    press(&mut window, Key::Num4);
    press(&mut window, Key::ArrowRight);
    assert!(is_said(&window, "A hand can hold it in"));
    press(&mut window, Key::Enter);
    assert!(session(&window).own().is_none());
    let lock = session(&window).lock_here().grip.expect("the grip is locked");
    assert_eq!(lock.len(), 2);
    let moment = session(&window).moment().unwrap();
    assert_eq!(moment.grip.only(moment.struck), lock);
}

#[test]
fn an_impossible_grip_is_refused_and_the_nearest_offered() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    click(&mut window, "Build your own grip");
    press_with(&mut window, Modifiers::SHIFT, Key::Backspace);
    for (string, fret) in [(Key::Num6, 1), (Key::Num1, 9)] {
        press(&mut window, string);
        for _ in 0..=fret {
            press(&mut window, Key::ArrowRight);
        }
    }
    assert!(matches!(session(&window).own().unwrap().judgement, Judgement::Impossible { .. }));
    assert!(is_said(&window, "No hand can hold it"));
    assert!(is_said(&window, "farther than the 137.5 mm they reach"));
    press(&mut window, Key::Enter);
    assert!(session(&window).work().plan.locks.is_empty(), "what nobody holds is not locked");
    press(&mut window, Key::G);
    assert!(matches!(session(&window).own().unwrap().judgement, Judgement::Held(_)));
    press(&mut window, Key::Escape);
    assert!(session(&window).own().is_none());
    assert!(!session(&window).shown().unwrap().is_preview);
}

#[test]
fn a_grip_without_the_melody_on_top_is_not_locked_and_says_why() {
    let mut window = window();
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    press(&mut window, Key::O);
    press_with(&mut window, Modifiers::SHIFT, Key::Backspace);
    press(&mut window, Key::Num6);
    press(&mut window, Key::ArrowRight);
    assert!(is_said(&window, "the melody note is"));
    press(&mut window, Key::Enter);
    assert!(session(&window).lock_here().is_empty());
}

#[test]
fn a_click_on_the_neck_puts_a_finger_there_and_takes_it_away() {
    let mut window = window();
    press(&mut window, Key::O);
    press_with(&mut window, Modifiers::SHIFT, Key::Backspace);
    let neck = {
        use egui_kittest::kittest::Queryable as _;
        window.get_by_label_contains("The neck").rect()
    };
    for sounding in [1, 0] {
        window.hover_at(neck.center());
        window.run_steps(2);
        window.drag_at(neck.center());
        window.drop_at(neck.center());
        window.run_steps(6);
        assert_eq!(own(&window).len(), sounding);
    }
}
