//! Draws the hands bar.

use eframe::egui::{Align, Button, DragValue, Label, Layout, Ui};
use handspan_core::arrangement::Edit;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::neck::geometry::Micrometres;

use super::model::{Choices, HandsModel};
use crate::command::{Command, FileWish, ViewWish};
use crate::panels::widgets::{command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// Width of the hand's menu.
const MENU: f32 = 75.0 * STEP;

/// How a reach is measured (common practice, no source).
const HOW_TO_MEASURE: [&str; 3] = [
    "Hold the neck at the fifth fret, thumb behind it, finger 1 and finger 4 on one string.",
    "Spread them as far as they go without pull or pain, and measure from tip to tip along the string.",
    "A wide stretch hurts in time: warm up, rest, stop when it hurts, ask a teacher or a doctor.",
];

/// Draws the bar over the whole width.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let model = HandsModel::of(session);
    ui.horizontal_centered(|ui| {
        ui.label(weighty(look.sizes.head, &model.title));
        ui.label(quiet(look, &model.composer));
        ui.add_space(4.0 * STEP);
        ui.spacing_mut().item_spacing.x = STEP;
        choices(ui, &model.key, queue);
        tuning(ui, &model.tuning, queue);
        choices(ui, &model.capo, queue);
        hand(ui, look, &model, queue);
        ui.add_space(STEP);
        ui.label(&model.tempo).on_hover_text("Quarter notes a minute, as the tune says");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            command_button(ui, session, &Command::File(FileWish::Save), queue);
            command_button(ui, session, &Command::File(FileWish::Open), queue);
            ui.add_space(2.0 * STEP);
            step(ui, session, &Command::Redo, model.redo.as_deref(), queue);
            step(ui, session, &Command::Undo, model.undo.as_deref(), queue);
            if let Some(undo) = &model.undo {
                ui.add_space(STEP);
                ui.add(Label::new(quiet(look, undo)).truncate());
            }
        });
    });
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
