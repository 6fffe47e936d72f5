//! Eight bars are written from nothing: the form, the keyboard, one note by a click on the neck, chord symbols typed.

use eframe::egui::{Key, Modifiers, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use handspan_app::job::Lane;
use handspan_app::session::{Place, Session};
use handspan_app::window::App;
use handspan_core::neck::StringIndex;
use handspan_core::time::Ticks;

const FRAMES: usize = 6;

fn press(window: &mut Harness<'_, App>, modifiers: Modifiers, key: Key) {
    window.key_press_modifiers(modifiers, key);
    window.run_steps(FRAMES);
}

fn keys(window: &mut Harness<'_, App>, keys: &[Key]) {
    for key in keys {
        press(window, Modifiers::NONE, *key);
    }
}

fn click(window: &mut Harness<'_, App>, label: &str) {
    window.get_by_label(label).click();
    window.run_steps(FRAMES);
}

fn session<'a>(window: &'a Harness<'_, App>) -> &'a Session {
    window.state().session()
}

/// The melody as text, in quarter notes: `0+1 C5`.
fn melody(window: &Harness<'_, App>) -> Vec<String> {
    let notes = session(window).work().tune.melody().iter();
    notes.map(|note| format!("{}+{} {}", note.at, note.length, note.written)).collect()
}

/// Writes a chord symbol over the beat where the caret stands.
fn chord(window: &mut Harness<'_, App>, text: &str) {
    press(window, Modifiers::NONE, Key::Enter);
    let at = session(window).writing().chord().expect("the field is open");
    let label = format!("Chord in {}", session(window).work().tune.bar_beat(at));
    window.get_by_label(&label).focus();
    window.run_steps(FRAMES);
    window.get_by_label(&label).type_text(text);
    window.run_steps(FRAMES);
    press(window, Modifiers::NONE, Key::Enter);
}

fn new_tune() -> Harness<'static, App> {
    let mut window =
        Harness::builder().with_size([1280.0, 800.0]).build_eframe(|cc| App::on(&cc.egui_ctx, Lane::Inline));
    window.run_steps(FRAMES);
    press(&mut window, Modifiers::COMMAND, Key::N);
    window.get_by_label("title").focus();
    window.run_steps(FRAMES);
    window.get_by_label("title").type_text("Eight Steps Down");
    window.run_steps(FRAMES);
    click(&mut window, "Write this tune");
    window
}

#[test]
fn eight_bars_are_written_from_nothing() {
    let mut window = new_tune();
    let session_now = session(&window);
    assert_eq!(
        (session_now.place(), session_now.title().as_str()),
        (Place::Tune, "Eight Steps Down – Handspan")
    );
    assert_eq!(session_now.work().tune.bars().len(), 8);
    assert!(session_now.arrangement().is_none() && session_now.notice().is_none());
    // Bar 1: a chord, two quarters, a dotted quarter and an eighth.
    chord(&mut window, "c");
    keys(&mut window, &[Key::C, Key::E, Key::Period, Key::G, Key::Num8, Key::A]);
    assert_eq!(melody(&window), ["0+1 C4", "1+1 E4", "2+3/2 G4", "7/2+1/2 A4"]);
    // Bar 2: one note by the neck, high on the first string; a rest; a note that is corrected by a semitone.
    keys(&mut window, &[Key::Num2]);
    click_neck(&mut window);
    let clicked = *session(&window).work().tune.melody().last().expect("notes");
    assert_eq!((clicked.at, clicked.length), (Ticks::QUARTER * 4, Ticks::QUARTER * 2));
    let string_1 = session(&window).work().plan.instrument.open_pitch(StringIndex::new(0));
    assert!(clicked.pitch() > string_1, "{}", clicked.written);
    keys(&mut window, &[Key::Num4, Key::Num0, Key::F]);
    press(&mut window, Modifiers::SHIFT, Key::ArrowUp);
    assert!(melody(&window)[5].starts_with("7+1 F#"), "{:?}", melody(&window));
    // Bars 3 to 8: whole notes, the last one tied over the line.
    keys(&mut window, &[Key::Num1, Key::G, Key::F, Key::E, Key::D, Key::C, Key::T]);
    assert!(melody(&window)[10].starts_with("24+8 C"), "{:?}", melody(&window));
    assert_eq!(session(&window).writing().caret(), Ticks::QUARTER * 32);
    keys(&mut window, &[Key::D]);
    let notice = session(&window).notice().expect("a reason").text.clone();
    assert_eq!(notice, "the tune ends before that; add a bar first");
    press(&mut window, Modifiers::COMMAND, Key::ArrowLeft);
    chord(&mut window, "G7");
    assert_eq!(session(&window).history().undo_name(), Some("Chord G7 in bar 8, beat 1"));
    let arrangement = session(&window).arrangement().expect("what is written is arranged");
    assert_eq!(arrangement.score.tune.melody(), session(&window).work().tune.melody());
    let mut steps = 0;
    while session(&window).history().undo_name().is_some() {
        press(&mut window, Modifiers::COMMAND, Key::Z);
        steps += 1;
    }
    assert_eq!(steps, 15);
    assert!(session(&window).work().tune.melody().is_empty() && !session(&window).is_unsaved());
}

/// Clicks the neck on its highest string, two thirds along it.
fn click_neck(window: &mut Harness<'_, App>) {
    let neck = window.get_by_label_contains("The neck:").rect();
    let at = Pos2::new(neck.left() + 0.66 * neck.width(), neck.top() + 0.12 * neck.height());
    window.drag_at(at);
    window.drop_at(at);
    window.run_steps(FRAMES);
}
