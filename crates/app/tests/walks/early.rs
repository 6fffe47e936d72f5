//! A player steps through the tune and is told which finger may go down before it is needed.

use crate::support::Walk;
use eframe::egui::{Key, Modifiers};
use handspan_app::folders::Folders;

#[test]
fn a_finger_that_may_go_down_early_is_told_and_lands() {
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::COMMAND, Key::Num2);
    for _ in 0..60 {
        if walk.session().early_here().next().is_some() {
            break;
        }
        assert!(!walk.shows("may go down"));
        walk.press(Modifiers::NONE, Key::ArrowRight);
    }
    let early = *walk.session().early_here().next().unwrap();
    let moments = &walk.session().arrangement().unwrap().moments;
    let stands = |moment: usize| moments[moment].grip.digits().of(early.finger);
    assert_eq!(stands(walk.session().moment_index()), None);
    assert_eq!(stands(early.lands), Some((early.fret, early.strings)));
    assert!(walk.shows(&format!("Finger {} may go down", early.finger)));
    while walk.session().moment_index() < early.lands {
        walk.press(Modifiers::NONE, Key::ArrowRight);
    }
    assert!(walk.session().early_here().all(|other| other.finger != early.finger));
}
