//! Draws what is said of the grip.

use eframe::egui::{Align, Button, Layout, RichText, Stroke, Ui, vec2};

use super::model::GripModel;
use crate::command::{Browse, Command, LockWish, ViewWish};
use crate::names;
use crate::panels::status::ADVICE;
use crate::panels::terms;
use crate::panels::widgets::{command_button, explained, head, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{NeckLabels, Session};
use crate::theme::{STEP, medium, strong};

/// Draws the explanation of the grip shown.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, model: Option<&GripModel>, queue: &mut Queue) {
    let Some(model) = model else {
        ui.label(quiet(look, "The grip is explained here once the tune is arranged."));
        return;
    };
    ui.horizontal(|ui| {
        ui.label(RichText::new(&model.chord).font(strong(look.sizes.chord)));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.label(quiet(look, &model.place));
        });
    });
    ui.label(quiet(look, &model.sentence));
    ui.add_space(STEP);
    decide(ui, look, session, model, queue);
    ui.add_space(STEP);
    total(ui, look, model);
    cautions(ui, look, model, queue);
    if model.can_be_held {
        why(ui, look, model);
    }
    line(ui, look);
    on_the_neck(ui, look, session, queue);
}

/// What the grip costs, term by term.
fn why(ui: &mut Ui, look: &Look, model: &GripModel) {
    line(ui, look);
    let moved = model.moved.as_deref().unwrap_or_default();
    let scale =
        model.grip.iter().chain(moved).map(|term| term.points.abs()).max().unwrap_or(0).max(LEAST_SCALE);
    head(ui, look, "Holding it");
    ui.scope(|ui| terms::list(ui, look, &model.grip, scale));
    ui.add_space(2.0 * STEP);
    head(ui, look, "Getting there, at this tempo");
    match &model.moved {
        Some(moved) => {
            ui.scope(|ui| terms::list(ui, look, moved, scale));
        }
        None => {
            ui.label(quiet(look, "the first moment: nothing to leave"));
        }
    }
    for early in &model.early {
        ui.label(quiet(look, early));
    }
}

/// What stands in the marks on the neck, and whether the next grip is shown there.
fn on_the_neck(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let view = session.neck_view();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = STEP;
        ui.label(quiet(look, "On the neck"));
        for labels in NeckLabels::ALL {
            let button = Button::new(labels.name()).selected(labels == view.labels);
            if explained(ui.add(button), &Command::View(ViewWish::NextLabels)).clicked() {
                queue.push(Command::View(ViewWish::Labels(labels)));
            }
        }
        let ahead = Command::View(ViewWish::Ahead);
        let button = Button::new("what comes next").selected(view.ahead);
        if explained(ui.add(button), &ahead).clicked() {
            queue.push(ahead);
        }
    });
}

/// The bars are no longer than so many points say, so that an easy grip looks easy.
const LEAST_SCALE: i32 = 20;

/// What strains, quietly, and what would be gentler.
fn cautions(ui: &mut Ui, look: &Look, model: &GripModel, queue: &mut Queue) {
    for caution in &model.cautions {
        ui.label(RichText::new(caution).size(look.sizes.quiet).color(look.palette.careful));
    }
    if model.cautions.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(quiet(look, ADVICE));
        if let Some(row) = model.gentler
            && ui.button(format!("Look at grip {}, without strain", row + 1)).clicked()
        {
            queue.push(Command::Browse(Browse::Row(row)));
        }
    });
}

fn line(ui: &mut Ui, look: &Look) {
    ui.add_space(STEP);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), eframe::egui::Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, look.palette.line));
    ui.add_space(STEP);
}

fn total(ui: &mut Ui, look: &Look, model: &GripModel) {
    if !model.can_be_held {
        ui.label(RichText::new("No hand can hold this grip").color(look.palette.hard));
        return;
    }
    ui.horizontal(|ui| {
        let meaning = "The smaller, the easier; below 0 is easier than most. What counts how much is learned from \
                       printed fingerings.";
        ui.label(RichText::new("Effort").font(medium(look.sizes.body))).on_hover_text(meaning);
        let (words, colour) = match model.against_route {
            None => ("", look.palette.quiet),
            Some(0) => ("as much as the route's grip", look.palette.quiet),
            Some(n) if n < 0 => ("easier here than the route's grip", look.palette.easy),
            Some(_) => ("harder than the route's grip", look.palette.careful),
        };
        ui.label(RichText::new(words).size(look.sizes.quiet).color(colour));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.label(weighty(look.sizes.head, names::points(model.total)));
        });
    });
}

fn decide(ui: &mut Ui, look: &Look, session: &Session, model: &GripModel, queue: &mut Queue) {
    if session.own().is_some() || session.routes().looked_at().is_some() {
        return;
    }
    if model.is_preview {
        ui.horizontal(|ui| {
            let take = Command::Lock(LockWish::Take);
            let button = Button::new(
                RichText::new("Take this grip").color(look.palette.on_mark).font(medium(look.sizes.body)),
            );
            let response = ui.add_enabled(session.can(&take), button.fill(look.palette.melody));
            if explained(response, &take).clicked() {
                queue.push(take);
            }
            command_button(ui, session, &Command::Browse(Browse::Back), queue);
        });
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = STEP;
        ui.label(quiet(look, "Keep"));
        let grip = if model.locked.grip { "grip, locked" } else { "grip" };
        keep(ui, session, LockWish::Grip, model.locked.grip, grip, queue);
        let melody = model
            .locked
            .melody
            .map_or_else(|| "melody's string".to_owned(), |string| format!("melody on string {string}"));
        keep(ui, session, LockWish::MelodyString, model.locked.melody.is_some(), &melody, queue);
        let bass =
            model.locked.bass.as_ref().map_or_else(|| "bass".to_owned(), |bass| format!("bass {bass}"));
        keep(ui, session, LockWish::Bass, model.locked.bass.is_some(), &bass, queue);
    });
}

fn keep(ui: &mut Ui, session: &Session, wish: LockWish, locked: bool, name: &str, queue: &mut Queue) {
    let command = Command::Lock(wish);
    let response = ui.add_enabled(session.can(&command), Button::new(name).selected(locked));
    if explained(response, &command).clicked() {
        queue.push(command);
    }
}
