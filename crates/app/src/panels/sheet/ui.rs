//! Draws the Sheet place: the pages in the middle, choices and ways out beside them.

use eframe::egui::{
    self, Button, CentralPanel, Frame, Label, Panel, RichText, ScrollArea, Stroke, TextEdit, Ui,
};

use super::model::{PaperChoice, Remark, SheetModel};
use super::pages::Pages;
use crate::command::{Command, FileWish, SheetWish};
use crate::file::Kind;
use crate::panels::widgets::{command_button, command_button_named, explained, head, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{Session, Zoom};
use crate::theme::STEP;

/// Width of the choices.
const CHOICES: f32 = 62.0 * STEP;

/// What the place remembers from frame to frame.
#[derive(Debug, Default)]
pub struct SheetPlace {
    pages: Pages,
    /// The remark that is being written, with its bar.
    writing: Option<(usize, String)>,
}

impl SheetPlace {
    /// Draws the place in what room there is.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let model = SheetModel::of(session);
        let beside = Frame::NONE.inner_margin(egui::Margin { left: 4 * STEP as i8, ..egui::Margin::ZERO });
        Panel::right("paper").exact_size(CHOICES).resizable(false).frame(beside).show(ui, |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                choices(ui, look, session, &model, queue);
                self.remark(ui, look, session, &model.remark, queue);
            });
        });
        CentralPanel::default().frame(Frame::NONE).show(ui, |ui| {
            self.bar(ui, look, session, &model, queue);
            if let Some(behind) = &model.behind {
                not_up_to_date(ui, look, behind);
            }
            ui.add_space(STEP);
            self.pages.show(ui, look, session, queue);
        });
    }

    /// Larger and smaller start from what is seen, which only the pages know.
    pub fn zoomed(&self, wish: &SheetWish) -> Option<SheetWish> {
        let larger = match wish {
            SheetWish::Larger => true,
            SheetWish::Smaller => false,
            _ => return None,
        };
        Some(SheetWish::Zoom(Zoom::stepped(self.pages.percent(), larger)))
    }

    /// The field for a remark under the bar where the player stands; it is printed once the field is left.
    fn remark(&mut self, ui: &mut Ui, look: &Look, session: &Session, remark: &Remark, queue: &mut Queue) {
        ui.add_space(2.0 * STEP);
        let label = ui.label(quiet(look, &remark.name));
        let (bar, mut text) = self
            .writing
            .take()
            .filter(|(bar, _)| *bar == remark.bar)
            .unwrap_or((remark.bar, remark.text.clone()));
        let field = TextEdit::multiline(&mut text).desired_rows(2).desired_width(f32::INFINITY);
        let response = ui.add(field).labelled_by(label.id);
        if response.lost_focus() && text != remark.text {
            let mut then = session.paper().options().clone();
            if text.trim().is_empty() {
                then.remarks.remove(&bar);
            } else {
                then.remarks.insert(bar, text.trim().to_owned());
            }
            queue.push(Command::Sheet(SheetWish::Choose(then)));
        } else if response.has_focus() {
            self.writing = Some((bar, text));
        }
    }

    fn bar(&self, ui: &mut Ui, look: &Look, session: &Session, model: &SheetModel, queue: &mut Queue) {
        ui.horizontal_wrapped(|ui| {
            ui.label(weighty(look.sizes.head, &model.words));
            command_button_named(ui, session, &Command::Sheet(SheetWish::PageBefore), "Page before", queue);
            command_button_named(ui, session, &Command::Sheet(SheetWish::NextPage), "Next page", queue);
            if !model.is_current {
                ui.label(quiet(look, "being engraved anew"));
            }
            ui.add_space(2.0 * STEP);
            ui.label(quiet(look, format!("{} %", self.pages.percent())));
            command_button_named(ui, session, &Command::Sheet(SheetWish::Smaller), "Smaller", queue);
            command_button_named(ui, session, &Command::Sheet(SheetWish::Larger), "Larger", queue);
            fit(ui, session, model, Zoom::Width, queue);
            fit(ui, session, model, Zoom::Page, queue);
        });
    }
}

/// Says over the pages that they are old, so that nobody plays from them unawares.
fn not_up_to_date(ui: &mut Ui, look: &Look, behind: &str) {
    let frame = Frame::NONE
        .fill(look.palette.panel)
        .stroke(Stroke::new(2.0, look.palette.hard))
        .corner_radius(look.sizes.radius)
        .inner_margin(egui::Margin::same(2 * STEP as i8));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.add(Label::new(RichText::new(behind).color(look.palette.hard)).wrap());
    });
}

fn fit(ui: &mut Ui, session: &Session, model: &SheetModel, zoom: Zoom, queue: &mut Queue) {
    let command = Command::Sheet(SheetWish::Zoom(zoom));
    let name = if zoom == Zoom::Page { "Whole page" } else { "Full width" };
    let button = Button::new(name).selected(model.zoom == zoom);
    let response = ui.add_enabled(session.can(&command), button);
    if explained(response, &command).clicked() {
        queue.push(command);
    }
}

fn choices(ui: &mut Ui, look: &Look, session: &Session, model: &SheetModel, queue: &mut Queue) {
    head(ui, look, "On the pages");
    for choice in &model.layouts {
        pick(ui, ui_radio, choice, queue);
    }
    ui.add_space(2.0 * STEP);
    head(ui, look, "Paper and print");
    for choice in &model.papers {
        pick(ui, ui_radio, choice, queue);
    }
    for choice in &model.switches {
        pick(ui, ui_check, choice, queue);
    }
    ui.add_space(2.0 * STEP);
    head(ui, look, "Take it along");
    for kind in Kind::ALL {
        command_button(ui, session, &Command::File(FileWish::Export(kind)), queue);
    }
    if let Some(missing) = &model.missing {
        ui.add_space(2.0 * STEP);
        ui.label(RichText::new(missing).size(look.sizes.quiet).color(look.palette.careful));
    }
}

fn ui_radio(ui: &mut Ui, choice: &PaperChoice) -> bool {
    ui.radio(choice.is_now, &choice.name).clicked() && !choice.is_now
}

fn ui_check(ui: &mut Ui, choice: &PaperChoice) -> bool {
    let mut on = choice.is_now;
    ui.checkbox(&mut on, &choice.name).clicked()
}

fn pick(ui: &mut Ui, control: fn(&mut Ui, &PaperChoice) -> bool, choice: &PaperChoice, queue: &mut Queue) {
    if control(ui, choice) {
        queue.push(Command::Sheet(SheetWish::Choose(choice.then.clone())));
    }
}
