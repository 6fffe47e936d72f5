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
    /// How wide what is offered was.
    offered: f32,
    /// How high the sentence was where it has rows of its own.
    rows: Option<f32>,
}

impl Status {
    /// How high the line has to be.
    pub fn height(&self) -> f32 {
        LINE + self.rows.unwrap_or(0.0)
    }

    /// Draws the line over the whole width: what is said beside what is offered, or, where it is too long for that, in
    /// rows of its own above. Nothing that is said is cut.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let (height, whole) = (self.height(), ui.available_width());
        let model = self.model.of(session.state(), || StatusModel::of(session));
        let font = FontId::proportional(look.sizes.body);
        let sentence = ui.painter().layout(model.sentence.clone(), font, look.palette.ink, whole - GAP);
        let fits = sentence.rows.len() == 1 && sentence.size().x + self.offered + GAP <= whole;
        let rows = (!fits).then(|| sentence.size().y + STEP);
        if rows.is_some() {
            ui.add_space(STEP);
            said(ui, look, model);
        }
        let line = vec2(whole, LINE.min(ui.available_height()));
        let beside = ui.allocate_ui_with_layout(line, Layout::right_to_left(Align::Center), |ui| {
            let from = ui.cursor().right();
            // How far the search is changes with every frame.
            match session.progress() {
                Some(progress) => searching(ui, look, progress, queue),
                None => offers(ui, look, session, model, queue),
            }
            if let Some(care) = &model.care {
                take_care(ui, look, care, queue);
            }
            gave_way(ui, look, session, model, queue);
            put_away(ui, look, model, queue);
            let offered = from - ui.cursor().right();
            if rows.is_none() {
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| said(ui, look, model));
            }
            offered
        });
        self.offered = beside.inner;
        self.rows = rows;
        if self.height() != height {
            ui.ctx().request_repaint();
        }
    }
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
