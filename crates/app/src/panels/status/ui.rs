//! Draws the status line.

use eframe::egui::{Align, Button, FontId, Label, Layout, ProgressBar, RichText, ScrollArea, Ui, vec2};

use super::care::{ADVICE, Care};
use super::model::{StatusModel, give_ways};
use handspan_core::time::Ticks;

use crate::command::{Command, Go, LockWish, RouteWish, ViewWish};
use crate::panels::cached::Cached;
use crate::panels::widgets::{command_button, command_button_named, quiet};
use crate::panels::{Look, Queue};
use crate::session::{Level, Session};
use crate::theme::{STEP, medium};

/// The line's height while its sentence has room beside what is offered.
const LINE: f32 = 9.0 * STEP;
/// Room between the sentence and what is offered.
const GAP: f32 = 4.0 * STEP;

/// What the line remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Status {
    model: Cached<u64, StatusModel>,
    /// How wide what can be opened or put away was, and what is offered.
    beside: (f32, f32),
    /// How high the rows were that do not fit into the line.
    above: f32,
}

impl Status {
    /// How high the line has to be.
    pub fn height(&self) -> f32 {
        LINE + self.above
    }

    /// Draws the line over the whole width: what is said beside what is offered, or, where that is too much, in rows of
    /// its own above. Nothing that is said is cut.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let (height, whole) = (self.height(), ui.available_width());
        let (opened, offered) = self.beside;
        let model = self.model.of(session.state(), || StatusModel::of(session));
        let font = FontId::proportional(look.sizes.body);
        let sentence = ui.painter().layout(model.sentence.clone(), font, look.palette.ink, whole - GAP);
        let fits = sentence.rows.len() == 1 && sentence.size().x + opened + offered + GAP <= whole;
        let crowded = opened + offered > whole;
        let rows = if fits { 0.0 } else { sentence.size().y + 3.0 * STEP };
        if !fits {
            ui.add_space(STEP);
            said(ui, look, model);
        }
        let row = vec2(whole, LINE);
        let mut beside = (opened, offered);
        if crowded {
            ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
                beside.0 = width_of(ui, |ui| open_or_put_away(ui, look, session, model, queue));
            });
        }
        ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
            beside.1 = width_of(ui, |ui| match session.progress() {
                // How far the search is changes with every frame.
                Some(progress) => searching(ui, look, progress, queue),
                None => offers(ui, look, session, model, queue),
            });
            if !crowded {
                beside.0 = width_of(ui, |ui| open_or_put_away(ui, look, session, model, queue));
            }
            if fits {
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| said(ui, look, model));
            }
        });
        self.beside = beside;
        self.above = rows + if crowded { LINE + STEP } else { 0.0 };
        if (self.height() - height).abs() > 0.5 {
            ui.ctx().request_repaint();
        }
    }
}

/// How much room something takes, from the right to the left.
fn width_of(ui: &mut Ui, draw: impl FnOnce(&mut Ui)) -> f32 {
    let from = ui.cursor().right();
    draw(ui);
    from - ui.cursor().right()
}

/// What says more when it is opened, and how to put a notice away.
fn open_or_put_away(ui: &mut Ui, look: &Look, session: &Session, model: &StatusModel, queue: &mut Queue) {
    if let Some(care) = &model.care {
        take_care(ui, look, care, queue);
    }
    gave_way(ui, look, session, model, queue);
    put_away(ui, look, model, queue);
}

fn gave_way(ui: &mut Ui, look: &Look, session: &Session, model: &StatusModel, queue: &mut Queue) {
    let Some(short) = model.give_ways_in_short() else {
        return;
    };
    ui.menu_button(RichText::new(short).color(look.palette.careful), |ui| {
        places(ui, &give_ways(session), queue);
    });
}

/// What strains, where, and the usual caution.
fn take_care(ui: &mut Ui, look: &Look, care: &Care, queue: &mut Queue) {
    ui.menu_button(RichText::new(&care.short).color(look.palette.careful), |ui| {
        places(ui, &care.grips, queue);
        ui.label(quiet(look, ADVICE));
    });
}

/// Sentences that lead to their moments.
fn places(ui: &mut Ui, places: &[(Ticks, String)], queue: &mut Queue) {
    ScrollArea::vertical().max_height(280.0).show(ui, |ui| {
        for (at, words) in places {
            if ui.add(Button::new(words).frame_when_inactive(false)).clicked() {
                queue.push(Command::Go(Go::To(*at)));
                ui.close();
            }
        }
    });
}

fn said(ui: &mut Ui, look: &Look, model: &StatusModel) {
    let colour = match model.level {
        Level::Told => look.palette.ink,
        Level::Mind => look.palette.careful,
        Level::Failed | Level::Refused => look.palette.hard,
    };
    let sentence = RichText::new(&model.sentence).color(colour);
    if model.details.is_empty() {
        ui.add(Label::new(sentence).wrap());
    } else {
        ui.menu_button(sentence, |ui| {
            ScrollArea::vertical().max_height(280.0).show(ui, |ui| {
                for detail in &model.details {
                    ui.label(detail);
                }
            });
        });
    }
}

fn put_away(ui: &mut Ui, look: &Look, model: &StatusModel, queue: &mut Queue) {
    if model.is_notice {
        let away = Button::new(quiet(look, "put away")).frame_when_inactive(false);
        if ui.add(away).clicked() {
            queue.push(Command::View(ViewWish::DismissNotice));
        }
    }
}

fn searching(ui: &mut Ui, look: &Look, progress: Option<f32>, queue: &mut Queue) {
    if ui.button("Cancel").clicked() {
        queue.push(Command::Route(RouteWish::Stop));
    }
    ui.add(ProgressBar::new(progress.unwrap_or(0.0)).desired_width(40.0 * STEP).desired_height(2.0 * STEP));
    ui.label(quiet(look, "finding the easiest route"));
}

fn offers(ui: &mut Ui, look: &Look, session: &Session, model: &StatusModel, queue: &mut Queue) {
    let Some(passage) = &model.passage else {
        command_button(ui, session, &Command::Route(RouteWish::Tune), queue);
        return;
    };
    command_button_named(ui, session, &Command::Lock(LockWish::ReleasePassage), "Release", queue);
    command_button_named(ui, session, &Command::Lock(LockWish::KeepPassage), "Keep", queue);
    command_button_named(ui, session, &Command::Route(RouteWish::Passage), "Find the easiest route", queue);
    ui.label(RichText::new(format!("In {passage}")).font(medium(look.sizes.body)));
}
