//! A player looks for the key, tuning and capo in which the tune lies best, and plays it so.

use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::{Command, LieWish};
use handspan_app::folders::Folders;
use handspan_core::arrangement::{LieScope, Octaves};
use handspan_core::neck::Tuning;

use crate::support::Walk;

/// Standard tuning and drop D without capo: enough to choose from, and soon compared.
fn scope() -> LieScope {
    let tunings = ["standard", "drop D"].map(|name| Tuning::named(name).expect("a common tuning"));
    LieScope { tunings: tunings.into(), capos: 0..=0, octaves: Octaves::Nearest }
}

#[test]
fn the_best_key_is_found_and_played() {
    let mut walk = Walk::within(Folders::none());
    walk.press(Modifiers::SHIFT, Key::C);
    assert!(walk.shows("Where does the tune lie best?"));
    assert!(walk.shows("6 tunings, capo up to fret 4"));
    walk.wish(Command::Lie(LieWish::Within(scope())));
    walk.click("Compare keys, tunings, capos");
    assert!(walk.shows("24 compared") && walk.shows("open basses"));
    let before = walk.session().arrangement().unwrap().effort;
    let best = walk.session().lies().table().unwrap().rows[0].lie.clone();
    let key = walk.session().work().tune.bars()[0].key.transposed(best.transpose).0;
    walk.click(&format!("Take {key:#}, {}", best.instrument.tuning().name()));
    assert_eq!(walk.session().work().plan.lie(), best);
    assert!(walk.session().arrangement().unwrap().effort < before);
    assert!(walk.shows("as it is") && !walk.shows("Found before the last change"));
    walk.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(walk.session().arrangement().unwrap().effort, before);
    walk.press(Modifiers::SHIFT, Key::ArrowRight);
    walk.press(Modifiers::NONE, Key::C);
    assert!(walk.shows("Take route 2"), "comparing routes shows them");
}

#[test]
fn a_tune_that_does_not_lie_on_the_guitar_finds_a_key_that_does() {
    let mut walk = Walk::within(Folders::none());
    let up = handspan_core::arrangement::Edit::Transpose(handspan_core::pitch::Interval::new(24));
    walk.wish(Command::Edit(up));
    walk.press(Modifiers::SHIFT, Key::C);
    walk.wish(Command::Lie(LieWish::Within(scope())));
    walk.wish(Command::Lie(LieWish::Compare));
    let best = walk.session().lies().table().unwrap().rows[0].lie.clone();
    walk.wish(Command::Lie(LieWish::Take(best)));
    assert!(walk.session().behind().is_none());
    assert!(walk.window.query_by_label_contains("as it is").is_some());
}

#[test]
fn music_that_is_written_out_says_why_it_has_no_keys_to_compare() {
    let study =
        std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/ropewalk-study.musicxml");
    let mut walk = Walk::on(Folders::none(), Some(study));
    walk.press(Modifiers::SHIFT, Key::C);
    assert!(walk.shows("Every note of this music is given"));
    assert!(!walk.shows("Compare keys, tunings, capos"));
}
