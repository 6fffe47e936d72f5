//! No text lies on another, in no place of the window.

use crate::support::Walk;
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Pos2, Rect, Shape, vec2};
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::{Browse, Command, Go, LieWish, RouteWish, TuneWish, ViewWish};
use handspan_app::folders::Folders;
use handspan_app::session::Place;
use handspan_core::arrangement::{Edit, LieScope, Octaves};
use handspan_core::pitch::Interval;

/// The texts within a shape and what is seen of them.
fn texts(shape: &Shape, clip: Rect, into: &mut Vec<(String, Rect)>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| texts(shape, clip, into)),
        Shape::Text(text) => {
            // Each row by itself; a line has room above and below its letters.
            for row in &text.galley.rows {
                let mut rect = row.rect().translate(text.pos.to_vec2()).shrink2([1.0, 4.0].into());
                // A text that begins in the middle of a row leaves what is there free.
                rect.min.x += row.glyphs.first().map_or(0.0, |glyph| glyph.pos.x);
                let seen = rect.intersect(clip);
                if seen.is_positive() && !row.text().trim().is_empty() {
                    into.push((row.text(), seen));
                }
            }
        }
        _ => {}
    }
}

/// Pairs of texts of which one lies on the other.
fn on_each_other(walk: &Walk) -> Vec<String> {
    let mut all = Vec::new();
    for clipped in &walk.window.output().shapes {
        texts(&clipped.shape, clipped.clip_rect, &mut all);
    }
    assert!(all.len() > 20, "the window shows texts");
    let mut pairs = Vec::new();
    for (index, (one, rect)) in all.iter().enumerate() {
        for (other, there) in &all[index + 1..] {
            if rect.intersect(*there).is_positive() {
                pairs.push(format!("“{one}” and “{other}” at {:?}", there.min));
            }
        }
    }
    pairs
}

fn assert_apart(walk: &Walk, what: &str) {
    let pairs = on_each_other(walk);
    assert!(pairs.is_empty(), "{what}:\n{}", pairs.join("\n"));
}

#[test]
fn no_text_lies_on_another_in_any_place() {
    let mut walk = Walk::within(Folders::none());
    for place in [Place::Tune, Place::Voicings, Place::Route, Place::Sheet] {
        walk.wish(Command::View(ViewWish::Place(place)));
        for _ in 0..6 {
            walk.wish(Command::Go(Go::Next));
            assert_apart(&walk, &format!("{place:?}"));
        }
    }
}

#[test]
fn no_text_lies_on_another_where_a_passage_is_compared_or_something_is_refused() {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::Go(Go::NextBar));
    walk.wish(Command::Widen(true));
    walk.wish(Command::View(ViewWish::Place(Place::Route)));
    assert_apart(&walk, "a passage");
    walk.wish(Command::Route(RouteWish::Compare));
    walk.wish(Command::Route(RouteWish::LookAt(1)));
    assert_apart(&walk, "routes compared");
    walk.wish(Command::Lie(LieWish::Show(true)));
    assert_apart(&walk, "keys, not yet compared");
    let tunings = walk.session().lie_tunings()[..1].to_vec();
    let scope = LieScope { tunings, capos: 1..=1, octaves: Octaves::Every };
    walk.wish(Command::Lie(LieWish::Within(scope)));
    walk.wish(Command::Lie(LieWish::Compare));
    assert_apart(&walk, "keys compared");
    walk.wish(Command::Lie(LieWish::Show(false)));
    walk.wish(Command::Edit(Edit::Transpose(Interval::new(24))));
    assert_apart(&walk, "refused");
    assert!(walk.shows("numbers of semitones"), "the useful part of a refusal is there");
    walk.wish(Command::View(ViewWish::Place(Place::Voicings)));
    walk.wish(Command::Browse(Browse::Down));
    assert_apart(&walk, "refused, and care");
}

#[test]
fn no_text_lies_on_another_where_a_tune_has_endings_or_a_chord_is_typed() {
    let demo = std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-data/lantern-on-the-quay.musicxml");
    let mut walk = Walk::on(Folders::none(), Some(demo));
    walk.wish(Command::View(ViewWish::Place(Place::Tune)));
    walk.press(Modifiers::COMMAND, Key::End);
    assert_apart(&walk, "endings");
    walk.press(Modifiers::COMMAND, Key::N);
    walk.press(Modifiers::NONE, Key::Enter);
    walk.wish(Command::Tune(TuneWish::Chord(None)));
    // What explains the field floats over the grid; the field itself covers nothing.
    let heads = ["1", "2", "G major · 4/4", "C major · 4/4"];
    let covered = on_each_other(&walk).into_iter().filter(|pair| {
        pair.contains("Chord in") && heads.iter().any(|head| pair.contains(&format!("“{head}”")))
    });
    assert_eq!(covered.collect::<Vec<_>>(), Vec::<String>::new());
}

/// A window of 1280 by 800 pixels with text of so many percent.
fn with_text(percent: f32) -> Walk {
    Walk::sized(1280.0 * 100.0 / percent, 800.0 * 100.0 / percent)
}

#[test]
fn large_text_leaves_what_is_needed_within_the_window() {
    for percent in [75.0, 130.0, 200.0] {
        let mut walk = with_text(percent);
        let room = Rect::from_min_size(Pos2::ZERO, vec2(1280.0, 800.0) * 100.0 / percent);
        for place in Place::ALL {
            walk.wish(Command::View(ViewWish::Place(*place)));
            for name in ["Undo", "Redo", "Open…", "Save", "Preferences", "Search", "?"] {
                let button = walk.window.get_by_role_and_label(Role::Button, name).rect();
                assert!(room.contains_rect(button), "{name} at {percent} %: {button:?} in {room:?}");
            }
            assert_apart(&walk, &format!("{place:?} at {percent} %"));
        }
        for name in ["Page before", "Next page", "Smaller", "Larger", "Full width", "Whole page"] {
            let button = walk.window.get_by_role_and_label(Role::Button, name).rect();
            assert!(room.contains_rect(button), "{name} at {percent} %: {button:?} in {room:?}");
        }
    }
}

#[test]
fn cards_of_routes_are_whole() {
    let mut walk = Walk::within(Folders::none());
    walk.wish(Command::Go(Go::NextBar));
    for _ in 0..3 {
        walk.wish(Command::Widen(true));
    }
    walk.wish(Command::View(ViewWish::Place(Place::Route)));
    walk.wish(Command::Route(RouteWish::Compare));
    assert!(walk.shows("1 inner note fewer"));
    let plot = walk.window.get_by_label_contains("Effort of every moment, by bars").rect();
    let moves: Vec<_> = walk.window.query_all_by_label_contains("hardest move, ").collect();
    assert_eq!(moves.len(), 12, "three of each of four routes");
    assert!(moves.iter().all(|row| row.rect().bottom() <= plot.top()), "{plot:?}");
}
