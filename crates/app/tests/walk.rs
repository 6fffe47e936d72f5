//! A player walks through the whole window: opens, steps, browses, locks, finds a route, undoes, exports and saves.
//! No display is needed, and no clock: jobs run in place.

use std::path::PathBuf;

use eframe::egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use handspan_app::command::{Command, FileWish, Go};
use handspan_app::job::Lane;
use handspan_app::session::Session;
use handspan_app::window::App;

/// Enough frames for a command to run, its job to answer and the answer to be drawn.
const FRAMES: usize = 6;

fn window() -> Harness<'static, App> {
    let mut window =
        Harness::builder().with_size([1280.0, 800.0]).build_eframe(|cc| App::on(&cc.egui_ctx, Lane::Inline));
    window.run_steps(FRAMES);
    window
}

/// The demo tune's second bar begins with a melody note over a bass; its first begins with a rest.
fn on_melody_and_bass() -> Harness<'static, App> {
    let mut window = window();
    press(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    window
}

fn wish(window: &mut Harness<'_, App>, command: Command) {
    window.state_mut().wish(command);
    window.run_steps(FRAMES);
}

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

fn demo(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(name)
}

fn open(window: &mut Harness<'_, App>, name: &str) {
    wish(window, Command::File(FileWish::OpenAt(demo(name))));
}

#[test]
fn the_demo_tune_is_arranged_when_the_window_opens() {
    let window = window();
    let arrangement = session(&window).arrangement().expect("the demo tune is arranged");
    assert!(arrangement.proven);
    assert!(!session(&window).browsing().grips().is_empty());
    assert!(!session(&window).is_unsaved());
}

#[test]
fn a_player_steps_browses_and_takes_a_grip() {
    let mut window = window();
    open(&mut window, "lantern-on-the-quay.musicxml");
    assert_eq!(session(&window).title(), "Lantern on the Quay – Handspan");
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(session(&window).moment_index(), 2);
    press(&mut window, Modifiers::COMMAND, Key::ArrowRight);
    let at = session(&window).playhead();
    press(&mut window, Modifiers::NONE, Key::ArrowDown);
    press(&mut window, Modifiers::NONE, Key::ArrowDown);
    let looked_at = session(&window).shown().expect("a grip is shown");
    assert!(looked_at.is_preview);
    press(&mut window, Modifiers::NONE, Key::Enter);
    let locked = session(&window).lock_here().grip.expect("the grip is locked");
    assert_eq!(locked, looked_at.grip.only(locked.strings()));
    let moment = session(&window).moment().expect("the player stands somewhere");
    assert_eq!((moment.at, moment.grip.only(moment.struck)), (at, locked));
    assert!(session(&window).is_unsaved());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(session(&window).lock_here().grip, None);
    assert!(!session(&window).is_unsaved());
}

#[test]
fn melody_bass_and_grip_are_locked_and_released() {
    let mut window = on_melody_and_bass();
    for key in [Key::M, Key::B, Key::L] {
        press(&mut window, Modifiers::NONE, key);
    }
    let lock = session(&window).lock_here();
    assert!(lock.melody.is_some() && lock.bass.is_some() && lock.grip.is_some(), "{lock:?}");
    assert_eq!(session(&window).history().undo_name(), Some("Lock the grip in bar 2, beat 1"));
    for key in [Key::M, Key::B, Key::L] {
        press(&mut window, Modifiers::NONE, key);
    }
    assert!(session(&window).lock_here().is_empty());
}

#[test]
fn a_click_on_the_neck_takes_the_melody_elsewhere() {
    let mut window = on_melody_and_bass();
    let before = session(&window).melody_place().expect("a melody note");
    let other = window
        .query_all_by_label_contains("Lock ")
        .find(|node| node.accesskit_node().label().is_some_and(|label| label.contains("to string")))
        .expect("the melody note can be played elsewhere");
    other.click();
    window.run_steps(FRAMES);
    let after = session(&window).melody_place().expect("a melody note");
    assert_ne!(before.string, after.string);
    assert_eq!(session(&window).lock_here().melody, Some(after.string));
}

#[test]
fn a_passage_is_selected_routed_kept_and_released() {
    let mut window = window();
    press(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    press(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    let passage = session(&window).passage().expect("a passage").clone();
    assert_eq!(passage.end, session(&window).bar(session(&window).bar(passage.start).end).end);
    press(&mut window, Modifiers::SHIFT, Key::R);
    let notice = session(&window).notice().expect("the result is said").text.clone();
    assert!(notice.starts_with("The easiest route through bars 1 to 2 is locked"), "{notice}");
    let locks: Vec<_> = session(&window).work().plan.locks.iter().map(|(at, _)| at).collect();
    assert!(!locks.is_empty() && locks.iter().all(|at| passage.contains(at)));
    press(&mut window, Modifiers::NONE, Key::U);
    assert!(session(&window).work().plan.locks.is_empty());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(session(&window).work().plan.locks.len(), locks.len());
    press(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(session(&window).work().plan.locks.is_empty());
}

#[test]
fn the_route_is_said_in_a_sentence() {
    let mut window = window();
    click(&mut window, "Find the easiest route");
    let notice = session(&window).notice().expect("the result is said").text.clone();
    let moments = session(&window).arrangement().map_or(0, |a| a.moments.len());
    assert!(notice.starts_with(&format!("{moments} moments, effort ")), "{notice}");
}

#[test]
fn sheets_and_projects_are_written_and_read_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = window();
    for name in ["sheet.pdf", "sheet.svg", "sheet.png", "sheet.musicxml"] {
        let path = folder.path().join(name);
        wish(&mut window, Command::File(FileWish::ExportTo(path.clone())));
        assert!(std::fs::metadata(&path).unwrap().len() > 1000, "{name}");
    }
    wish(&mut window, Command::File(FileWish::ExportTo(folder.path().join("sheet.txt"))));
    let notice = &session(&window).notice().expect("a reason").text;
    assert!(notice.contains(".pdf, .svg, .png or .musicxml"), "{notice}");
    press(&mut window, Modifiers::NONE, Key::L);
    let work = session(&window).work().clone();
    wish(&mut window, Command::File(FileWish::SaveAt(folder.path().join("mine"))));
    assert!(!session(&window).is_unsaved());
    wish(&mut window, Command::File(FileWish::OpenAt(folder.path().join("mine.handspan"))));
    assert_eq!(*session(&window).work(), work);
}

#[test]
fn a_broken_file_leaves_the_work_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.musicxml");
    std::fs::write(&path, "<score-partwise><part").unwrap();
    let mut window = window();
    let work = session(&window).work().clone();
    wish(&mut window, Command::File(FileWish::OpenAt(path)));
    let notice = session(&window).notice().expect("a reason");
    assert!(notice.text.contains("broken.musicxml"), "{}", notice.text);
    assert_eq!(*session(&window).work(), work);
}

#[test]
fn unsaved_work_is_not_replaced_unasked() {
    let mut window = window();
    press(&mut window, Modifiers::NONE, Key::L);
    open(&mut window, "lantern-on-the-quay.musicxml");
    assert!(session(&window).title().contains("Gangway at Six"));
    click(&mut window, "Open without saving");
    assert_eq!(session(&window).title(), "Lantern on the Quay – Handspan");
}

#[test]
fn every_key_is_listed() {
    let mut window = window();
    press(&mut window, Modifiers::NONE, Key::Questionmark);
    for entry in handspan_app::command::entries() {
        window.get_all_by_label_contains(entry.tip).next().expect(entry.tip);
    }
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_label("Keys").is_none());
}

#[test]
fn every_button_has_a_name_of_its_own() {
    let mut window = window();
    wish(&mut window, Command::Go(Go::Next));
    let buttons = window.get_all_by_role(Role::Button);
    let mut labels: Vec<String> = buttons.filter_map(|node| node.accesskit_node().label()).collect();
    let count = labels.len();
    assert!(count > 8, "{labels:?}");
    assert!(labels.iter().all(|label| !label.is_empty()));
    labels.sort();
    labels.dedup();
    assert_eq!(labels.len(), count);
}
