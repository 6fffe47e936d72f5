//! The preferences: light or dark, size of text, what the neck shows and for which hand, less motion.

use eframe::egui::{Context, Ui};

use super::widgets::{head, modal, quiet, weighty};
use super::{Look, Queue};
use crate::command::{Command, Preference, ViewWish};
use crate::names;
use crate::preferences::{Preferences, Surroundings};
use crate::session::NeckLabels;
use crate::theme::STEP;

/// Shows the preferences over the window.
pub fn show(ctx: &Context, look: &Look, preferences: &Preferences, queue: &mut Queue) {
    let shown = modal("preferences", ctx).show(ctx, |ui| {
        ui.set_width(500.0);
        ui.label(weighty(look.sizes.head, "Preferences"));
        ui.add_space(2.0 * STEP);
        head(ui, look, "Surroundings");
        ui.horizontal(|ui| surroundings(ui, preferences, queue));
        ui.add_space(2.0 * STEP);
        head(ui, look, "Size of text and all around it");
        ui.horizontal_wrapped(|ui| text(ui, preferences, queue));
        ui.add_space(2.0 * STEP);
        head(ui, look, "In the marks on the neck");
        ui.horizontal(|ui| labels(ui, preferences, queue));
        ui.add_space(2.0 * STEP);
        head(ui, look, "Hands and eyes");
        let mirrored = "Left-handed: the neck and the chord boxes are mirrored";
        let mirror = Command::View(ViewWish::LeftHanded);
        switch(ui, preferences.left_handed, mirrored, mirror, queue);
        let still = Command::Prefer(Preference::LessMotion);
        switch(ui, preferences.less_motion, "Less motion: nothing glides", still, queue);
        ui.add_space(3.0 * STEP);
        ui.horizontal(|ui| {
            if ui.button("Done").clicked() {
                queue.push(Command::View(ViewWish::Preferences));
            }
            ui.label(quiet(look, "Kept for the next time"));
        });
    });
    if shown.should_close() {
        queue.push(Command::View(ViewWish::Preferences));
    }
}

fn surroundings(ui: &mut Ui, preferences: &Preferences, queue: &mut Queue) {
    let choices = [
        ("As the system has it", Surroundings::System),
        ("Light", Surroundings::Light),
        ("Dark", Surroundings::Dark),
    ];
    for (name, choice) in choices {
        if ui.radio(preferences.surroundings == choice, name).clicked() {
            queue.push(Command::Prefer(Preference::Surroundings(choice)));
        }
    }
}

fn text(ui: &mut Ui, preferences: &Preferences, queue: &mut Queue) {
    for percent in Preferences::TEXT {
        if ui.selectable_label(preferences.text == percent, format!("{percent} %")).clicked() {
            queue.push(Command::Prefer(Preference::Text(percent)));
        }
    }
}

fn labels(ui: &mut Ui, preferences: &Preferences, queue: &mut Queue) {
    for labels in NeckLabels::ALL {
        if ui.radio(preferences.labels == labels, names::capital(labels.name())).clicked() {
            queue.push(Command::View(ViewWish::Labels(labels)));
        }
    }
}

fn switch(ui: &mut Ui, mut on: bool, name: &str, command: Command, queue: &mut Queue) {
    if ui.checkbox(&mut on, name).clicked() {
        queue.push(command);
    }
}
