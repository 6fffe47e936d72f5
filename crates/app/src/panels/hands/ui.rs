//! Draws the hands bar.

use eframe::egui::{
    Align, Button, DragValue, FontId, Label, Layout, Role as AccessRole, Ui, WidgetInfo, vec2,
};
use handspan_core::arrangement::Edit;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::neck::geometry::Micrometres;
use handspan_core::time::Tempo;
use handspan_core::tune::Mend;

use super::model::{Choices, HandsModel};
use crate::command::{Command, FileWish, ViewWish};
use crate::panels::widgets::{command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, strong};

/// Width of the hand's menu.
const MENU: f32 = 75.0 * STEP;

/// How a reach is measured (common practice, no source).
const HOW_TO_MEASURE: [&str; 3] = [
    "Hold the neck at the fifth fret, thumb behind it, finger 1 and finger 4 on one string.",
    "Spread them as far as they go without pull or pain, and measure from tip to tip along the string.",
    "A wide stretch hurts in time: warm up, rest, stop when it hurts, ask a teacher or a doctor.",
];

/// Height of a row of the bar.
const ROW: f32 = 48.0;
/// Room for everything in the bar but title and composer.
const CONTROLS: f32 = 165.0 * STEP;

/// How high the bar is over so much width: title and ways back in a row of their own where one is too narrow for all.
pub fn height(ui: &Ui, look: &Look, session: &Session, width: f32) -> f32 {
    let tune = session.tune();
    let size =
        |text: &str, font| ui.painter().layout_no_wrap(text.to_owned(), font, look.palette.ink).size().x;
    let title = size(tune.title(), strong(look.sizes.head));
    let composer = size(tune.composer(), FontId::proportional(look.sizes.quiet));
    if title + composer + CONTROLS <= width { ROW } else { 1.75 * ROW }
}

/// Draws the bar over the whole width.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let model = HandsModel::of(session);
    if ui.available_height() <= ROW {
        ui.horizontal_centered(|ui| {
            ui.label(weighty(look.sizes.head, &model.title));
            ui.label(quiet(look, &model.composer));
            ui.add_space(4.0 * STEP);
            plan(ui, look, &model, queue);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                steps(ui, look, session, &model, queue);
            });
        });
        return;
    }
    let row = vec2(ui.available_width(), 0.85 * ROW);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        steps(ui, look, session, &model, queue);
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(Label::new(weighty(look.sizes.head, &model.title)).truncate());
            ui.add(Label::new(quiet(look, &model.composer)).truncate());
        });
    });
    ui.horizontal_wrapped(|ui| plan(ui, look, &model, queue));
}

/// What is chosen for the tune and its player.
fn plan(ui: &mut Ui, look: &Look, model: &HandsModel, queue: &mut Queue) {
    ui.spacing_mut().item_spacing.x = STEP;
    choices(ui, &model.key, queue);
    tuning(ui, &model.tuning, queue);
    choices(ui, &model.capo, queue);
    hand(ui, look, model, queue);
    ui.add_space(STEP);
    tempo(ui, model, queue);
}

/// Ways back and the file, from the right to the left.
fn steps(ui: &mut Ui, look: &Look, session: &Session, model: &HandsModel, queue: &mut Queue) {
    ui.spacing_mut().item_spacing.x = STEP;
    command_button(ui, session, &Command::File(FileWish::Save), queue);
    command_button(ui, session, &Command::File(FileWish::Open), queue);
    ui.add_space(2.0 * STEP);
    step(ui, session, &Command::Redo, model.redo.as_deref(), queue);
    step(ui, session, &Command::Undo, model.undo.as_deref(), queue);
    if let Some(undo) = model.undo.as_ref().filter(|_| ui.available_height() > 0.9 * ROW) {
        ui.add_space(STEP);
        ui.add(Label::new(quiet(look, undo)).truncate());
    }
}

/// The tempo where the player stands, changed where it was set.
fn tempo(ui: &mut Ui, model: &HandsModel, queue: &mut Queue) {
    let mut quarters = model.tempo;
    let number = DragValue::new(&mut quarters).range(Tempo::MIN..=Tempo::MAX).prefix("♩ ");
    let response = ui.add(number).on_hover_text("Quarter notes a minute; drag, or click and type");
    response
        .widget_info(|| WidgetInfo::labeled(AccessRole::SpinButton, true, "Tempo in quarter notes a minute"));
    if response.changed() {
        let mend = Mend::Tempo { bar: model.tempo_from, tempo: Tempo::try_new(quarters) };
        queue.push(Command::EditInGesture(Edit::Tune(mend)));
    }
    if response.drag_stopped() || response.lost_focus() {
        queue.push(Command::CloseGesture);
    }
}

/// Undo or redo; the tooltip names the step.
fn step(ui: &mut Ui, session: &Session, command: &Command, name: Option<&str>, queue: &mut Queue) {
    let response = command_button(ui, session, command, queue);
    if let Some(name) = name {
        response.on_hover_text(name);
    }
}

fn choices(ui: &mut Ui, choices: &Choices, queue: &mut Queue) {
    let button = Button::new(&choices.now).frame_when_inactive(false);
    eframe::egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| offer(ui, choices, queue));
}

fn offer(ui: &mut Ui, choices: &Choices, queue: &mut Queue) {
    for choice in &choices.all {
        if ui.selectable_label(choice.is_now, &choice.name).clicked() {
            queue.push(Command::Edit(choice.edit.clone()));
            ui.close();
        }
    }
}

fn tuning(ui: &mut Ui, choices: &Choices, queue: &mut Queue) {
    let button = Button::new(&choices.now).frame_when_inactive(false);
    eframe::egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        offer(ui, choices, queue);
        ui.separator();
        if ui.button("Another tuning, other strings, another neck…").clicked() {
            queue.push(Command::View(ViewWish::Guitar));
            ui.close();
        }
    });
}

fn hand(ui: &mut Ui, look: &Look, model: &HandsModel, queue: &mut Queue) {
    let button = Button::new(&model.hand.now).frame_when_inactive(false);
    let menu = eframe::egui::containers::menu::MenuButton::from_button(button);
    menu.ui(ui, |ui| {
        ui.set_max_width(MENU);
        offer(ui, &model.hand, queue);
        ui.separator();
        reach(ui, look, model.player, queue);
        for line in HOW_TO_MEASURE {
            ui.add(Label::new(quiet(look, line)).wrap());
        }
        ui.separator();
        let mut hand = model.player;
        ui.checkbox(&mut hand.thumb, "left thumb comes over the edge");
        ui.checkbox(&mut hand.little_plucks, "right little finger plucks");
        if hand != model.player {
            queue.push(Command::Edit(Edit::Hand(hand)));
        }
    });
}

/// The player's own reach from finger 1 to finger 4, in millimetres.
fn reach(ui: &mut Ui, look: &Look, hand: Hand, queue: &mut Queue) {
    use handspan_core::hand::Finger;
    let reach = hand.span(Finger::Index, Finger::Little).practical;
    let mut millimetres = reach.millimetres();
    ui.horizontal(|ui| {
        let label = ui.label(quiet(look, "farthest reach, finger 1 to 4"));
        let range = Hand::MEASURED_MIN.millimetres()..=Hand::MEASURED_MAX.millimetres();
        let number = DragValue::new(&mut millimetres).range(range).suffix(" mm").max_decimals(0);
        let response = ui.add(number).labelled_by(label.id);
        if response.changed() {
            let size = HandSize::Measured(Micrometres::from_millimetres(millimetres));
            queue.push(Command::EditInGesture(Edit::Hand(Hand { size, ..hand })));
        }
        if response.drag_stopped() || response.lost_focus() {
            queue.push(Command::CloseGesture);
        }
    });
}
