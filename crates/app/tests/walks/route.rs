//! A player finds the easiest route through a hard passage, compares three and takes one.

use crate::steps::{click, is_said, press, press_with, session, window};
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use handspan_core::plan::Aim;

#[test]
fn a_hard_passage_is_routed_compared_and_one_is_taken() {
    let mut window = window();
    click(&mut window, "Route");
    assert!(is_said(&window, "Routes through the whole tune"));
    // Two bars from the second on.
    press_with(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    press_with(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    press_with(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    click(&mut window, "Find the easiest route through bars 2 to 3");
    let notice = session(&window).notice().unwrap().text.clone();
    assert!(notice.starts_with("The easiest route through bars 2 to 3 is locked"), "{notice}");
    press(&mut window, Key::U);
    press(&mut window, Key::C);
    let found = session(&window).routes().found().to_vec();
    assert_eq!(found.len(), 3, "three different routes are found");
    assert!(is_said(&window, "Routes through bars 2 to 3"));
    click(&mut window, "See route 2");
    assert_eq!(session(&window).routes().looked_at(), Some(1));
    click(&mut window, "Take route 3");
    let passage = session(&window).passage().unwrap().clone();
    let struck = |a: &handspan_core::arrangement::Arrangement| -> Vec<_> {
        a.excerpt(&passage).moments.iter().map(|m| m.grip.only(m.struck)).collect()
    };
    assert_eq!(struck(session(&window).arrangement().unwrap()), struck(&found[2]));
    assert!(is_said(&window, "compare again"));
    assert!(is_said(&window, "locks are kept by every route"));
    press_with(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(session(&window).work().plan.locks.is_empty());
}

#[test]
fn the_effort_of_every_moment_is_gone_through_by_keys() {
    let mut window = window();
    click(&mut window, "Route");
    let name = "Effort of every moment: arrows choose one, Enter stands there";
    let said = |window: &egui_kittest::Harness<'_, handspan_app::window::App>| {
        window.get_by_label(name).accesskit_node().value().unwrap_or_default()
    };
    window.get_by_label(name).focus();
    window.run_steps(2);
    let first = said(&window);
    press(&mut window, Key::ArrowRight);
    press(&mut window, Key::ArrowRight);
    assert_eq!(session(&window).moment_index(), 0, "choosing is not standing there yet");
    let third = said(&window);
    assert!(first.contains("effort") && third.contains("effort") && first != third, "{first}, {third}");
    press(&mut window, Key::Enter);
    assert_eq!(session(&window).moment_index(), 2);
    press_with(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    let passage = session(&window).passage().expect("Shift selects").clone();
    assert!(passage.contains(&session(&window).playhead()));
}

#[test]
fn what_easiest_means_is_chosen_and_undone() {
    let mut window = window();
    click(&mut window, "Route");
    let hardest = |window: &egui_kittest::Harness<'_, handspan_app::window::App>| {
        let moves = session(window).arrangement().unwrap().hardest_moves(1);
        moves[0].1.total()
    };
    let before = hardest(&window);
    click(&mut window, "gentlest hardest move");
    assert_eq!(session(&window).work().plan.aim, Aim::Gentlest);
    assert!(hardest(&window) <= before);
    press_with(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(session(&window).work().plan.aim, Aim::LeastTotal);
}
