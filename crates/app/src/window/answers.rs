//! Questions that the window asks unbidden: what becomes of work that a crash has left, and of a project that another
//! window has open.

use eframe::egui::{Context, Label, Ui};

use crate::command::{Command, FileWish, RecoveryWish};
use crate::panels::widgets::{modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{Found, Held, Session};
use crate::theme::STEP;

/// Whether such a question is open.
pub(super) fn are_wanted(session: &Session) -> bool {
    session.found().is_some() || session.held().is_some()
}

/// Draws the question that is open.
pub(super) fn show(ctx: &Context, look: &Look, session: &Session, queue: &mut Queue) {
    if let Some(found) = session.found() {
        recovered(ctx, look, found, queue);
    } else if let Some(held) = session.held() {
        held_elsewhere(ctx, look, held, queue);
    }
}

fn recovered(ctx: &Context, look: &Look, found: &Found, queue: &mut Queue) {
    modal("recovered", ctx).show(ctx, |ui| {
        let title = match found.title() {
            "" => "an untitled tune",
            title => title,
        };
        let source = found.source().map_or_else(
            || "It had not been saved anywhere.".to_owned(),
            |path| format!("It came from {}, which is as it was last saved.", path.display()),
        );
        question(
            ui,
            look,
            &format!("There is unsaved work on {title}"),
            &["The program ended without warning the last time; every change up to then was kept.", &source],
        );
        ui.horizontal(|ui| {
            if ui.button("Take it back").clicked() {
                queue.push(Command::Recover(RecoveryWish::TakeBack));
            }
            if ui.button("Throw it away").clicked() {
                queue.push(Command::Recover(RecoveryWish::Discard));
            }
        });
    });
}

fn held_elsewhere(ctx: &Context, look: &Look, held: &Held, queue: &mut Queue) {
    let shown = modal("held", ctx).show(ctx, |ui| {
        let who = format!("{} has it open in another window.", held.by);
        question(
            ui,
            look,
            "This project is being worked on",
            &[
                &who,
                "Two windows on one file would overwrite each other; a copy can be saved under another name.",
                &held.path().display().to_string(),
            ],
        );
        ui.horizontal(|ui| {
            if ui.button("Open a copy").clicked() {
                queue.push(Command::File(FileWish::OpenCopy));
            }
            if ui.button("Leave it").clicked() {
                queue.push(Command::File(FileWish::LeaveHeld));
            }
        });
    });
    if shown.should_close() {
        queue.push(Command::File(FileWish::LeaveHeld));
    }
}

fn question(ui: &mut Ui, look: &Look, head: &str, lines: &[&str]) {
    ui.set_width(480.0);
    ui.label(weighty(look.sizes.head, head));
    ui.add_space(2.0 * STEP);
    for line in lines {
        ui.add(Label::new(quiet(look, *line)).wrap());
    }
    ui.add_space(4.0 * STEP);
}
