//! Draws the status line.

use eframe::egui::{Align, Button, Label, Layout, ProgressBar, RichText, ScrollArea, Ui};

use super::care::{ADVICE, Care};
use super::model::{StatusModel, give_ways};
use handspan_core::time::Ticks;

use crate::command::{Command, Go, LockWish, RouteWish, ViewWish};
use crate::panels::cached::Cached;
use crate::panels::widgets::{command_button, command_button_named, quiet};
use crate::panels::{Look, Queue};
use crate::session::{Level, Session};
use crate::theme::{STEP, medium};

/// Room kept beside a sentence for putting it away and for what gave way.
const AWAY: f32 = 45.0 * STEP;

/// What the line remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Status {
    model: Cached<u64, StatusModel>,
}

impl Status {
    /// Draws the line over the whole width.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let model = self.model.of(session.state(), || StatusModel::of(session));
        show(ui, look, session, model, queue);
    }
}

fn show(ui: &mut Ui, look: &Look, session: &Session, model: &StatusModel, queue: &mut Queue) {
    // What is offered has its room first; what is said takes the rest and is cut where it is too long.
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        // How far the search is changes with every frame.
        match session.progress() {
            Some(progress) => searching(ui, look, progress, queue),
            None => offers(ui, look, session, model, queue),
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            said(ui, look, model, queue);
            gave_way(ui, look, session, model, queue);
            if let Some(care) = &model.care {
                take_care(ui, look, care, queue);
            }
        });
    });
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

fn said(ui: &mut Ui, look: &Look, model: &StatusModel, queue: &mut Queue) {
    let colour = match model.level {
        Level::Told => look.palette.ink,
        Level::Mind => look.palette.careful,
        Level::Failed => look.palette.hard,
    };
    let sentence = RichText::new(&model.sentence).color(colour);
    if model.details.is_empty() {
        ui.scope(|ui| {
            ui.set_max_width((ui.available_width() - AWAY).max(0.0));
            ui.add(Label::new(sentence).truncate());
        });
    } else {
        ui.menu_button(sentence, |ui| {
            ScrollArea::vertical().max_height(280.0).show(ui, |ui| {
                for detail in &model.details {
                    ui.label(detail);
                }
            });
        });
    }
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
