//! Draws the table of keys, tunings and capo positions.

use eframe::egui::{Align, Button, Label, Layout, ProgressBar, Rect, RichText, ScrollArea, Ui, pos2, vec2};

use super::model::{HEADS, LiesModel, Row};
use super::scope;
use crate::command::{Command, LieWish};
use crate::panels::cached::Cached;
use crate::panels::widgets::{command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{Arranged, Session};
use crate::theme::STEP;

/// Height of a row.
const ROW: f32 = 7.0 * STEP;
/// Width of the rank before the columns.
const RANK: f32 = 8.0 * STEP;
/// Width of the button behind the columns.
const TAKE: f32 = 17.0 * STEP;
/// The widths of the columns.
const WIDTHS: [f32; HEADS.len()] = [128.0, 96.0, 112.0, 40.0, 56.0, 104.0, 88.0, 80.0, 68.0, 88.0];
/// Columns of numbers, which stand at their right edge.
const NUMBERS: std::ops::RangeInclusive<usize> = 4..=8;

/// What the page remembers from frame to frame.
#[derive(Debug, Default)]
pub struct LiesPage {
    model: Cached<(Arranged, u64, Option<u32>), LiesModel>,
}

impl LiesPage {
    /// Draws the page in what room there is.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let progress = session.lies().progress().map(f32::to_bits);
        let basis = (session.arranged(), session.lies().revision(), progress);
        let model = self.model.of(basis, || LiesModel::of(session));
        ui.horizontal_wrapped(|ui| asked(ui, look, session, model, queue));
        if model.count.is_none() && session.lies().progress().is_none() {
            invite(ui, look);
        }
        ui.add_space(STEP);
        ScrollArea::horizontal()
            .id_salt("lies")
            .auto_shrink(false)
            .show(ui, |ui| table(ui, look, model, queue));
    }
}

/// What is compared, and how far it is.
fn asked(ui: &mut Ui, look: &Look, session: &Session, model: &LiesModel, queue: &mut Queue) {
    scope::show(ui, look, session, &model.scope, queue);
    match session.lies().progress() {
        Some(progress) => {
            let bar = ProgressBar::new(progress);
            ui.add(bar.desired_width(40.0 * STEP).desired_height(2.0 * STEP));
            if ui.button("Stop comparing").clicked() {
                queue.push(Command::Lie(LieWish::Stop));
            }
        }
        None => {
            command_button(ui, session, &Command::Lie(LieWish::Compare), queue);
        }
    }
    if let Some(count) = &model.count {
        ui.label(quiet(look, count));
    }
    if model.count.is_some() && !model.is_current {
        ui.label(RichText::new("Found before the last change; compare again").color(look.palette.careful));
    }
}

/// What the page is for, until something is compared.
fn invite(ui: &mut Ui, look: &Look) {
    ui.add_space(2.0 * STEP);
    ui.label(weighty(look.sizes.head, "Where does the tune lie best?"));
    for line in [
        "Every key in every tuning with every capo is arranged, each by its easiest route, the easiest first.",
        "Easy means effort weighed against what the notes are worth to the ear, as a route is chosen.",
        "Melody on the high strings, bass notes on open ones: that is where a guitar sounds by itself.",
    ] {
        ui.label(quiet(look, line));
    }
}

fn table(ui: &mut Ui, look: &Look, model: &LiesModel, queue: &mut Queue) {
    let width = RANK + WIDTHS.iter().sum::<f32>() + TAKE;
    ui.set_min_width(width);
    ui.spacing_mut().item_spacing = vec2(0.0, 0.0);
    let heads = HEADS
        .map(|(head, tip)| (RichText::new(head).size(look.sizes.quiet).color(look.palette.quiet), Some(tip)));
    line(ui, quiet(look, ""), heads);
    if let Some(now) = &model.now {
        let cells = now.clone().map(|cell| (RichText::new(cell), None));
        line(ui, quiet(look, "now"), cells);
        ui.separator();
    }
    let area = ScrollArea::vertical().id_salt("rows of lies").auto_shrink(false);
    area.show_rows(ui, ROW, model.rows.len(), |ui, shown| {
        for index in shown {
            row(ui, look, (index, &model.rows[index]), queue);
        }
    });
}

fn row(ui: &mut Ui, look: &Look, (index, row): (usize, &Row), queue: &mut Queue) {
    let colour = if row.is_now { look.palette.melody } else { look.palette.ink };
    let rank = if row.why_not.is_none() { (index + 1).to_string() } else { String::new() };
    let cells = row.cells.clone().map(|cell| (RichText::new(cell).color(colour), None));
    let rect = line(ui, quiet(look, rank), cells);
    let mut left = rect.left() + RANK + WIDTHS.iter().sum::<f32>();
    if let Some(why_not) = &row.why_not {
        let from = rect.left() + RANK + WIDTHS[..4].iter().sum::<f32>();
        let room = Rect::from_min_max(pos2(from, rect.top()), pos2(left, rect.bottom()));
        cell(ui, room, false, quiet(look, why_not));
        return;
    }
    left += 2.0 * STEP;
    let room =
        Rect::from_min_max(pos2(left, rect.top() + 2.0), pos2(left + TAKE - 2.0 * STEP, rect.bottom() - 2.0));
    if row.is_now {
        cell(ui, room, false, quiet(look, "as it is"));
        return;
    }
    let response = ui.put(room, Button::new("Play so"));
    response.widget_info(|| {
        let name = format!("Play it in {}", row.name);
        eframe::egui::WidgetInfo::labeled(eframe::egui::Role::Button, true, name)
    });
    if response.on_hover_text(format!("Plays it in {}; undo goes back", row.name)).clicked() {
        queue.push(Command::Lie(LieWish::Take(row.lie.clone())));
    }
}

/// A line of cells; gives the room it takes.
fn line(ui: &mut Ui, rank: RichText, cells: [(RichText, Option<&str>); HEADS.len()]) -> Rect {
    let width = RANK + WIDTHS.iter().sum::<f32>() + TAKE;
    let (rect, _) = ui.allocate_exact_size(vec2(width, ROW), eframe::egui::Sense::hover());
    let mut left = rect.left();
    let mut next = |width: f32| {
        let room = Rect::from_min_max(pos2(left, rect.top()), pos2(left + width, rect.bottom()));
        left += width;
        room
    };
    cell(ui, next(RANK), true, rank);
    for (column, ((text, tip), width)) in cells.into_iter().zip(WIDTHS).enumerate() {
        let response = cell(ui, next(width), NUMBERS.contains(&column), text);
        if let Some(tip) = tip {
            response.on_hover_text(tip);
        }
    }
    rect
}

/// A text in its room, at the left or the right edge.
fn cell(ui: &mut Ui, room: Rect, at_right: bool, text: RichText) -> eframe::egui::Response {
    let room = room.shrink2(vec2(1.5 * STEP, 0.0));
    let layout =
        if at_right { Layout::right_to_left(Align::Center) } else { Layout::left_to_right(Align::Center) };
    let mut inside = ui.new_child(eframe::egui::UiBuilder::new().max_rect(room).layout(layout));
    inside.add(Label::new(text).truncate())
}
