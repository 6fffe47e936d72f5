//! Draws the search for commands.

use eframe::egui::{Align, Button, Context, Key, Layout, Modifiers, ScrollArea, TextEdit, Ui};

use super::model::found;
use crate::command::{Command, Entry, ViewWish, key_name};
use crate::panels::widgets::{modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// How many points high the list is.
const LIST: f32 = 320.0;

/// What the search remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Search {
    typed: String,
    at: usize,
}

impl Search {
    /// Shows the search over the window.
    pub fn show(&mut self, ctx: &Context, look: &Look, session: &Session, queue: &mut Queue) {
        let stepped = step(ctx);
        let entered = ctx.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
        let shown = modal("search", ctx).show(ctx, |ui| {
            ui.set_width(560.0);
            self.field(ui, look);
            let entries = found(&self.typed);
            self.at = self.at.saturating_add_signed(stepped).min(entries.len().saturating_sub(1));
            ui.add_space(2.0 * STEP);
            if entries.is_empty() {
                ui.label(quiet(
                    look,
                    "No command has these letters in this order; try a word of what it does",
                ));
            }
            let chosen = self.list(ui, look, session, &entries, stepped != 0);
            let chosen = chosen.or_else(|| entries.get(self.at).copied().filter(|_| entered));
            if let Some(entry) = chosen.filter(|entry| session.can(&entry.command)) {
                *self = Self::default();
                queue.push(Command::View(ViewWish::Search));
                queue.push(entry.command.clone());
            }
        });
        if shown.should_close() {
            *self = Self::default();
            queue.push(Command::View(ViewWish::Search));
        }
    }

    fn field(&mut self, ui: &mut Ui, look: &Look) {
        let label = ui.label(weighty(look.sizes.head, "What would you like to do?"));
        ui.add_space(STEP);
        let field = TextEdit::singleline(&mut self.typed).desired_width(f32::INFINITY);
        let response = ui.add(field).labelled_by(label.id);
        response.request_focus();
        if response.changed() {
            self.at = 0;
        }
    }

    /// Draws the list; gives the entry that was clicked.
    fn list(
        &self,
        ui: &mut Ui,
        look: &Look,
        session: &Session,
        entries: &[&'static Entry],
        follow: bool,
    ) -> Option<&'static Entry> {
        let mut clicked = None;
        ScrollArea::vertical().max_height(LIST).auto_shrink([false, true]).show(ui, |ui| {
            for (index, entry) in entries.iter().copied().enumerate() {
                let here = index == self.at;
                let response = row(ui, look, session, entry, here);
                if response.clicked() {
                    clicked = Some(entry);
                }
                if here && follow {
                    response.scroll_to_me(None);
                }
            }
        });
        clicked
    }
}

fn row(ui: &mut Ui, look: &Look, session: &Session, entry: &Entry, here: bool) -> eframe::egui::Response {
    ui.horizontal(|ui| {
        let button = Button::selectable(here, entry.name);
        let response = ui.add_enabled(session.can(&entry.command), button).on_hover_text(entry.tip);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let keys = entry.keys.first().map(|key| key_name(*key)).unwrap_or_default();
            ui.label(quiet(look, keys));
            ui.add(eframe::egui::Label::new(quiet(look, entry.tip)).truncate());
        });
        response
    })
    .inner
}

/// Up and down walk through the list while letters go to the field.
fn step(ctx: &Context) -> isize {
    ctx.input_mut(|input| {
        let down = input.consume_key(Modifiers::NONE, Key::ArrowDown);
        let up = input.consume_key(Modifiers::NONE, Key::ArrowUp);
        isize::from(down) - isize::from(up)
    })
}
