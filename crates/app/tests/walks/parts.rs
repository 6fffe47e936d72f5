//! A player opens a score of horns, voice and bass, and says which part is what.

use std::path::PathBuf;

use crate::support::Walk;
use eframe::egui::{Key, Modifiers, accesskit};
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::Command;
use handspan_app::folders::Folders;
use handspan_app::session::{Place, Role};
use handspan_core::arrangement::Edit;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::tune::{Line, Mend};

/// Chooses in the box of a part.
fn choose(walk: &mut Walk, part: &str, role: &str) {
    walk.window.get_by_role_and_label(accesskit::Role::ComboBox, part).click();
    walk.window.run_steps(4);
    walk.window.get_by_role_and_label(accesskit::Role::Button, role).click();
    walk.window.run_steps(8);
}

fn roles(walk: &Walk) -> Vec<Role> {
    let import = walk.session().import();
    import.into_iter().flat_map(|import| import.parts().map(|(_, role)| role)).collect()
}

#[test]
fn the_parts_of_a_band_become_melody_bass_line_and_hook() {
    let score = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/mail-boat-morning.musicxml");
    let mut walk = Walk::on(Folders::none(), Some(score));
    // Something was left out, so it is shown at once, with what can be done about it.
    assert_eq!(walk.session().place(), Place::Tune);
    assert!(walk.shows("parts of the score"));
    // What is sung is the melody until it is said otherwise.
    assert_eq!(roles(&walk), [Role::NotRead, Role::Melody, Role::NotRead]);
    choose(&mut walk, "Horns", "melody");
    assert_eq!(roles(&walk), [Role::Melody, Role::NotRead, Role::NotRead]);
    let of_horns = walk.session().work().tune.melody().len();
    choose(&mut walk, "Voice", "melody");
    assert_eq!(roles(&walk), [Role::NotRead, Role::Melody, Role::NotRead]);
    assert!(walk.session().work().tune.melody().len() > of_horns);
    choose(&mut walk, "Bass", "bass line");
    choose(&mut walk, "Horns", "hook");
    assert_eq!(roles(&walk), [Role::Hook, Role::Melody, Role::BassLine]);
    let tune = &walk.session().work().tune;
    for line in Line::ALL {
        assert!(tune.lines().iter().any(|note| note.line == line), "{line:?}");
    }
    // Tempo and sections stand over the horns.
    assert_eq!(tune.tempo_at(tune.bars()[0].start).quarters_a_minute(), 104);
    assert_eq!(tune.bars()[8].section.as_deref(), Some("B"));
    assert!(walk.session().arrangement().is_some());
    // What has been done since is not lost unasked.
    let small = Hand { size: HandSize::Small, ..Hand::default() };
    walk.wish(Command::Edit(Edit::Hand(small)));
    walk.wish(Command::Edit(Edit::Tune(Mend::Title("Early Boat".to_owned()))));
    choose(&mut walk, "Horns", "not read");
    assert!(walk.shows("Some changes have not been saved"));
    assert_eq!(roles(&walk)[0], Role::Hook);
    walk.click("Read anew without saving");
    assert_eq!(roles(&walk)[0], Role::NotRead);
    // Who plays has nothing to do with what is read.
    let work = walk.session().work();
    assert_eq!((work.plan.hand, work.tune.title()), (small, "Mail Boat Morning"));
}

#[test]
fn a_choice_by_a_key_closes_the_list() {
    let score = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/mail-boat-morning.musicxml");
    let mut walk = Walk::on(Folders::none(), Some(score));
    walk.window.get_by_role_and_label(accesskit::Role::ComboBox, "Bass").focus();
    walk.window.run_steps(2);
    walk.press(Modifiers::NONE, Key::Space);
    assert!(walk.window.ctx.any_popup_open());
    walk.window.get_by_role_and_label(accesskit::Role::Button, "bass line").focus();
    walk.window.run_steps(2);
    walk.press(Modifiers::NONE, Key::Space);
    assert_eq!(roles(&walk)[2], Role::BassLine);
    assert!(!walk.window.ctx.any_popup_open(), "arrows would go on through the list");
}
