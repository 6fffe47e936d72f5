//! A lead sheet with two mistakes is opened, and both are mended: a chord symbol of a kind that does not exist, and a
//! wrong melody note.

use std::path::PathBuf;

use eframe::egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use handspan_app::command::{Command, FileWish};
use handspan_app::job::Lane;
use handspan_app::session::{Place, Session};
use handspan_app::window::App;

const FRAMES: usize = 6;

fn press(window: &mut Harness<'_, App>, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run_steps(FRAMES);
}

fn click(window: &mut Harness<'_, App>, label: &str) {
    window.get_by_label(label).click();
    window.run_steps(FRAMES);
}

fn session<'a>(window: &'a Harness<'_, App>) -> &'a Session {
    window.state().session()
}

/// A demo tune in which the first chord has a kind that no standard knows, and the first note is another.
fn broken(folder: &tempfile::TempDir) -> PathBuf {
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/lantern-on-the-quay.musicxml");
    let text = std::fs::read_to_string(demo).unwrap();
    let (kind, end) = text.split_once("<kind").map(|(a, b)| (a.len(), b.find("</kind>").unwrap())).unwrap();
    let broken = format!("{}<kind>majorly{}", &text[..kind], &text[kind + "<kind".len() + end..]);
    let path = folder.path().join("quay-copied-by-hand.musicxml");
    std::fs::write(&path, broken).unwrap();
    path
}

#[test]
fn an_import_with_mistakes_is_mended() {
    let folder = tempfile::tempdir().unwrap();
    let mut window =
        Harness::builder().with_size([1280.0, 800.0]).build_eframe(|cc| App::on(&cc.egui_ctx, Lane::Inline));
    window.run_steps(FRAMES);
    window.state_mut().wish(Command::File(FileWish::OpenAt(broken(&folder))));
    window.run_steps(FRAMES);
    assert_eq!(session(&window).place(), Place::Tune, "what could not be kept is shown at once");
    let remarks = session(&window).import().expect("a file was opened").remarks().to_vec();
    let at = remarks[0].at(&session(&window).work().tune).expect("it says where");
    let as_read = session(&window).work().clone();
    // A click on the remark goes to its bar; a chord symbol is typed there, in small letters and with a slip.
    let place = format!("{}, remark 1", remarks[0].diagnostic.place);
    click(&mut window, &place);
    assert_eq!(session(&window).writing().caret(), at);
    press(&mut window, Modifiers::NONE, Key::Enter);
    let field = format!("Chord in {}", session(&window).work().tune.bar_beat(at));
    window.get_by_label(&field).focus();
    window.run_steps(FRAMES);
    window.get_by_label(&field).type_text("gmajj");
    window.run_steps(FRAMES);
    assert!(window.query_by_label_contains("says nothing after").is_some(), "the slip is named");
    press(&mut window, Modifiers::NONE, Key::Backspace);
    press(&mut window, Modifiers::NONE, Key::Enter);
    let tune = &session(&window).work().tune;
    assert_eq!(tune.chord_at(at).map(ToString::to_string).as_deref(), Some("G"));
    click(&mut window, "See to it (1)");
    assert!(session(&window).import().unwrap().remarks()[0].is_settled);
    // The first note is one too low.
    let note = session(&window).work().tune.melody()[0];
    press(&mut window, Modifiers::NONE, Key::Home);
    while session(&window).writing().caret() < note.at {
        press(&mut window, Modifiers::NONE, Key::ArrowRight);
    }
    press(&mut window, Modifiers::NONE, Key::ArrowUp);
    let mended = session(&window).work().tune.melody()[0];
    assert!(mended.pitch() > note.pitch() && mended.length == note.length);
    let place = session(&window).work().tune.bar_beat(note.at);
    let name = format!("Pitch {:#} in {place}", mended.written);
    assert_eq!(session(&window).history().undo_name(), Some(name.as_str()));
    assert!(session(&window).arrangement().is_some());
    for _ in 0..2 {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*session(&window).work(), as_read, "undo leads back to what was read");
}
