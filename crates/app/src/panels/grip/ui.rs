//! Draws what is said of the grip.

use eframe::egui::{Align, Button, Color32, Layout, RichText, Stroke, Ui, vec2};

use super::model::GripModel;
use crate::command::{Browse, Command, LockWish};
use crate::names;
use crate::panels::voicings::Term;
use crate::panels::widgets::{command_button, explained, head, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, medium, strong};

/// Draws the explanation of the grip shown.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let Some(model) = GripModel::of(session) else {
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
    decide(ui, look, session, &model, queue);
    ui.add_space(STEP);
    total(ui, look, &model);
    line(ui, look);
    head(ui, look, "Holding it");
    ui.scope(|ui| terms(ui, look, &model.grip));
    ui.add_space(2.0 * STEP);
    head(ui, look, "Getting there, at this tempo");
    match &model.moved {
        Some(moved) => {
            ui.scope(|ui| terms(ui, look, moved));
        }
        None => {
            ui.label(quiet(look, "the first moment: nothing to leave"));
        }
    }
}

fn terms(ui: &mut Ui, look: &Look, terms: &[Term]) {
    ui.spacing_mut().interact_size.y = 5.0 * STEP;
    ui.spacing_mut().item_spacing.y = 0.0;
    if terms.is_empty() {
        ui.label(quiet(look, "no effort"));
    }
    for term in terms {
        let gain = term.points < 0;
        let colour = if gain { look.palette.easy } else { look.palette.ink };
        row(ui, term.name, &names::points(term.points), colour);
    }
}

fn row(ui: &mut Ui, name: &str, points: &str, colour: Color32) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).color(colour));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.label(RichText::new(points).color(colour));
        });
    });
}

fn line(ui: &mut Ui, look: &Look) {
    ui.add_space(STEP);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), eframe::egui::Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, look.palette.line));
    ui.add_space(STEP);
}

fn total(ui: &mut Ui, look: &Look, model: &GripModel) {
    ui.horizontal(|ui| {
        ui.label(RichText::new("Effort").font(medium(look.sizes.body)));
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
        bass(ui, session, model, queue);
    });
}

fn keep(ui: &mut Ui, session: &Session, wish: LockWish, locked: bool, name: &str, queue: &mut Queue) {
    let command = Command::Lock(wish);
    let response = ui.add_enabled(session.can(&command), Button::new(name).selected(locked));
    if explained(response, &command).clicked() {
        queue.push(command);
    }
}

fn bass(ui: &mut Ui, session: &Session, model: &GripModel, queue: &mut Queue) {
    let name = model.locked.bass.as_ref().map_or_else(|| "bass".to_owned(), |bass| format!("bass {bass}"));
    ui.menu_button(name, |ui| {
        let as_it_sounds = Command::Lock(LockWish::Bass);
        let name = if model.locked.bass.is_some() { "Release the bass" } else { "As it sounds" };
        if ui.add_enabled(session.can(&as_it_sounds), Button::new(name)).clicked() {
            queue.push(as_it_sounds);
        }
        for (choice, name) in &model.basses {
            if ui.button(format!("{name} in any octave")).clicked() {
                queue.push(Command::Lock(LockWish::BassTo(Some(*choice))));
            }
        }
    });
}
