//! The list of keys, made from the one table of commands.

use eframe::egui::{Align, Context, Grid, Layout, RichText, ScrollArea, Ui};

use crate::command::{Command, Entry, OWN, TABLE, ViewWish, key_name};
use crate::panels::widgets::{head, modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::theme::{STEP, medium};

/// How wide the column of keys is.
const KEY: f32 = 112.0;

/// A column is no narrower, so that its words are read in lines.
const COLUMN: f32 = 270.0;

/// Shows the list over the window.
pub fn show(ctx: &Context, look: &Look, queue: &mut Queue) {
    let shown = modal("keys", ctx).show(ctx, |ui| {
        ui.set_width((ctx.content_rect().width() - 20.0 * STEP).min(1140.0));
        ui.horizontal(|ui| {
            ui.label(weighty(look.sizes.head, "Keys"));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.button("Close").clicked() {
                    queue.push(Command::View(ViewWish::Keys));
                }
            });
        });
        ui.add_space(2.0 * STEP);
        let height = ctx.content_rect().height() - 40.0 * STEP;
        ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, |ui| {
            let count = ((ui.available_width() / COLUMN) as usize).clamp(1, 3);
            ui.columns(count, |columns| {
                for (index, (name, entries)) in TABLE.iter().chain([&OWN]).enumerate() {
                    // Three columns of about the same length, two, or all in one.
                    let third = usize::from(index > 5) + usize::from(index > 7);
                    let column = third.min(count - 1);
                    group(&mut columns[column], look, name, entries);
                }
            });
        });
    });
    if shown.should_close() {
        queue.push(Command::View(ViewWish::Keys));
    }
}

fn group(ui: &mut Ui, look: &Look, name: &str, entries: &[Entry]) {
    head(ui, look, name);
    Grid::new(name).num_columns(2).min_col_width(KEY).spacing([4.0 * STEP, STEP]).show(ui, |ui| {
        for entry in entries {
            let keys: Vec<String> = entry.keys.iter().map(|k| key_name(*k)).collect();
            let keys = if keys.is_empty() { "by name".to_owned() } else { keys.join(" or ") };
            ui.label(RichText::new(keys).font(medium(look.sizes.body)));
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 0.0;
                ui.label(entry.name.trim_end_matches('…'));
                ui.add(eframe::egui::Label::new(quiet(look, entry.tip)).wrap());
            });
            ui.end_row();
        }
    });
    ui.add_space(3.0 * STEP);
}
