//! Draws the table of keys, tunings and capo positions.

use std::ops::Range;

use eframe::egui::{
    Align, Button, Label, Layout, ProgressBar, Rect, Response, RichText, Role, ScrollArea, Sense, Ui,
    UiBuilder, WidgetInfo, vec2,
};

use super::model::{HEADS, LiesModel, PLACES};
use super::scope;
use crate::command::{Command, LieWish};
use crate::panels::cached::Cached;
use crate::panels::widgets::{command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{Arranged, Session};
use crate::theme::STEP;

/// Height of a row.
const ROW: f32 = 7.0 * STEP;
/// The least widths: of the rank, of the button, which is in sight however narrow the window is, and of the columns.
const RANK: f32 = 40.0;
const TAKE: f32 = 68.0;
const WIDTHS: [f32; HEADS.len()] = [144.0, 92.0, 112.0, 40.0, 56.0, 104.0, 92.0, 84.0, 68.0, 92.0];
/// Room for the bar by which the rows are scrolled.
const BAR: f32 = 3.0 * STEP;
/// Where there is room, columns are so much wider at the most: farther apart, a row is hard to follow.
const WIDEST: f32 = 1.25;
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
        if session.is_written_out() {
            let given =
                "Every note of this music is given as it lies on the guitar: there are no keys to compare.";
            ui.label(quiet(look, given));
            return;
        }
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
        ui.label(quiet(look, format!("{count}; {}", model.order)));
    }
    let stale = match (&model.count, model.is_current, model.is_as_chosen) {
        (None, ..) | (_, true, true) => return,
        (_, false, _) => "Found before the last change; compare again",
        (_, _, false) => "Found before other things were chosen; compare again",
    };
    ui.label(RichText::new(stale).color(look.palette.careful));
}

/// What the page is for, until something is compared.
fn invite(ui: &mut Ui, look: &Look) {
    ui.add_space(2.0 * STEP);
    ui.label(weighty(look.sizes.head, "Where does the tune lie best?"));
    for line in [
        "Every key in every tuning with every capo is arranged, each by its easiest route, the easiest first.",
        "Easy means effort weighed against what the notes are worth to the ear, as a route is chosen.",
    ] {
        ui.label(quiet(look, line));
    }
}

/// Where the columns lie.
#[derive(Clone, Copy)]
struct Columns {
    /// How much wider than their least they are.
    wider: f32,
}

impl Columns {
    fn within(width: f32) -> Self {
        let least = RANK + WIDTHS.iter().sum::<f32>() + TAKE;
        Self { wider: (width / least).clamp(1.0, WIDEST) }
    }

    /// From the rank to the last column.
    fn width(self) -> f32 {
        (RANK + WIDTHS.iter().sum::<f32>() + TAKE) * self.wider
    }

    /// The room of some columns in a line.
    fn of(self, line: Rect, columns: Range<usize>) -> Rect {
        let until =
            |column: usize| line.left() + (RANK + TAKE + WIDTHS[..column].iter().sum::<f32>()) * self.wider;
        Rect::from_x_y_ranges(until(columns.start)..=until(columns.end), line.y_range())
    }

    fn rank(self, line: Rect) -> Rect {
        Rect::from_x_y_ranges(line.left()..=line.left() + RANK * self.wider, line.y_range())
    }

    fn take(self, line: Rect) -> Rect {
        let room = self.rank(line).right()..=self.of(line, 0..0).left();
        Rect::from_x_y_ranges(room, line.y_range()).shrink2(vec2(STEP, 1.0))
    }
}

fn table(ui: &mut Ui, look: &Look, model: &LiesModel, queue: &mut Queue) {
    let columns = Columns::within(ui.available_width() - BAR);
    ui.set_min_width(columns.width());
    ui.spacing_mut().item_spacing.y = 0.0;
    let heads = line(ui, columns);
    for (column, (head, tip)) in HEADS.into_iter().enumerate() {
        cell(ui, columns, heads, column, quiet(look, head)).on_hover_text(tip);
    }
    if let Some(now) = &model.now {
        let line = line(ui, columns);
        put(ui, columns.rank(line), true, quiet(look, "now"));
        for (column, text) in now.iter().enumerate() {
            cell(ui, columns, line, column, text.into());
        }
        ui.separator();
    }
    let area = ScrollArea::vertical().id_salt("rows of lies").auto_shrink(false);
    area.show_rows(ui, ROW, model.rows.len(), |ui, shown| {
        for index in shown {
            row(ui, look, columns, (model, index), queue);
        }
    });
}

fn row(ui: &mut Ui, look: &Look, columns: Columns, (model, index): (&LiesModel, usize), queue: &mut Queue) {
    let row = &model.rows[index];
    let line = line(ui, columns);
    let colour = if row.is_now { look.palette.melody } else { look.palette.ink };
    for (column, text) in row.cells.iter().enumerate() {
        cell(ui, columns, line, column, RichText::new(text).color(colour));
    }
    if let Some(why_not) = &row.why_not {
        put(ui, columns.of(line, PLACES..HEADS.len()), false, quiet(look, why_not));
        return;
    }
    put(ui, columns.rank(line), true, quiet(look, (index + 1).to_string()));
    if row.is_now {
        put(ui, columns.take(line), false, quiet(look, "as it is"));
        return;
    }
    let take = |ui: &mut Ui| {
        ui.add_enabled(model.is_current, Button::new("Take").min_size(columns.take(line).size()))
    };
    // Rows move while more are found: a button belongs to its key, not to its place.
    let response = ui.push_id(&row.name, |ui| ui.put(columns.take(line), take)).inner;
    response
        .widget_info(|| WidgetInfo::labeled(Role::Button, model.is_current, format!("Take {}", row.name)));
    if response.on_hover_text(format!("Plays the tune in {}; undo goes back", row.name)).clicked() {
        queue.push(Command::Lie(LieWish::Take(row.lie.clone())));
    }
}

/// Room for a line.
fn line(ui: &mut Ui, columns: Columns) -> Rect {
    ui.allocate_exact_size(vec2(columns.width(), ROW), Sense::hover()).0
}

/// A text in its column of a line.
fn cell(ui: &mut Ui, columns: Columns, line: Rect, column: usize, text: RichText) -> Response {
    put(ui, columns.of(line, column..column + 1), NUMBERS.contains(&column), text)
}

/// A text in its room, at the left or the right edge.
fn put(ui: &mut Ui, room: Rect, at_right: bool, text: RichText) -> Response {
    let room = room.shrink2(vec2(1.5 * STEP, 0.0));
    let layout =
        if at_right { Layout::right_to_left(Align::Center) } else { Layout::left_to_right(Align::Center) };
    let mut inside = ui.new_child(UiBuilder::new().max_rect(room).layout(layout));
    inside.add(Label::new(text).truncate())
}
