//! Draws the Tune place: the grid in the middle, what belongs to it beside it.

use eframe::egui::{Frame, Margin, Panel, Rect, RichText, ScrollArea, Ui, pos2, vec2};

use super::chord::{ChordField, field_rect};
use super::form::Form;
use super::grid::{CHORDS, Cell, ROW};
use super::model::{BarCell, Range, transposed};
use super::side::Side;
use crate::command::{Command, FileWish};
use crate::panels::widgets::{command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// How wide the pages beside the grid are.
const SIDE: f32 = 100.0 * STEP;
/// A bar is at least so wide.
const BAR: f32 = 180.0;
/// The rows of bars have four, or two or eight where there is less or more room.
const COLUMNS: [usize; 3] = [8, 4, 2];

/// What the Tune place remembers from frame to frame.
#[derive(Debug, Default)]
pub struct TunePanel {
    chord: ChordField,
    form: Form,
    side: Side,
    /// The row that the caret was last in, so that the grid follows it.
    row: Option<usize>,
}

impl TunePanel {
    /// Draws the place over the whole middle of the window.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let frame = Frame::NONE.inner_margin(Margin { left: 4 * STEP as i8, ..Margin::ZERO });
        Panel::right("beside the grid").exact_size(SIDE).resizable(false).frame(frame).show(ui, |ui| {
            self.side.show(ui, look, session, queue);
        });
        head(ui, look, session, queue);
        self.grid(ui, look, session, queue);
        if session.writing().is_forming() {
            self.form.show(ui.ctx(), look, queue);
        }
    }

    fn grid(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let tune = &session.work().tune;
        let width = ui.available_width() - 3.0 * STEP;
        let columns = COLUMNS.into_iter().find(|n| *n as f32 * BAR <= width).unwrap_or(1);
        let rows = tune.bars().len().div_ceil(columns);
        let caret_row = tune.bar_index(session.writing().caret()) / columns;
        let range = Range::of(tune);
        ScrollArea::vertical().auto_shrink(false).show_viewport(ui, |ui, viewport| {
            ui.set_height(rows as f32 * ROW);
            let corner = ui.max_rect().left_top();
            let size = vec2(width / columns as f32, ROW);
            let first = (viewport.top() / ROW).floor().max(0.0) as usize;
            let last = ((viewport.bottom() / ROW).ceil() as usize).min(rows);
            let mut field = None;
            for index in first * columns..(last * columns).min(tune.bars().len()) {
                let Some(bar) = BarCell::of(session, range, index) else { break };
                let at = corner + vec2((index % columns) as f32 * size.x, (index / columns) as f32 * ROW);
                let cell = Cell { bar: &bar, rect: Rect::from_min_size(at, size), look };
                cell.show(ui, session, queue);
                field = field.or_else(|| over(&cell, session, corner.x + width));
            }
            match field {
                Some(rect) => self.chord.show(ui, rect, look, session, queue),
                None => self.chord.close(),
            }
            self.follow(ui, corner.y, caret_row);
        });
    }

    /// Keeps the caret in sight when it moves to another row.
    fn follow(&mut self, ui: &Ui, top: f32, row: usize) {
        if self.row.replace(row) != Some(row) {
            let at = pos2(ui.max_rect().left(), top + row as f32 * ROW);
            ui.scroll_to_rect(Rect::from_min_size(at, vec2(1.0, ROW)), None);
        }
    }
}

/// Where the field lies, if the chord symbol that is typed belongs to this bar.
fn over(cell: &Cell<'_>, session: &Session, right: f32) -> Option<Rect> {
    let at = session.writing().chord()?;
    let tune = &session.work().tune;
    if tune.bar_index(at) != cell.bar.index {
        return None;
    }
    let beats = cell.bar.beats.iter().map(|beat| (beat.at, beat.place));
    let chords = cell.bar.chords.iter().map(|chord| (chord.at, chord.place));
    let place = beats.chain(chords).find(|(time, _)| *time == at).map_or(cell.bar.span.0, |(_, place)| place);
    Some(field_rect(cell.x(place) - STEP, cell.rect.top() + CHORDS.0, right))
}

/// Over the grid: what can be done here, in one line.
fn head(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    ui.horizontal(|ui| {
        ui.label(weighty(look.sizes.head, "The tune"));
        if let Some(words) = transposed(session) {
            ui.label(quiet(look, words));
        }
        ui.with_layout(eframe::egui::Layout::right_to_left(eframe::egui::Align::Center), |ui| {
            ui.add_space(3.0 * STEP);
            command_button(ui, session, &Command::File(FileWish::New), queue);
        });
    });
    let hint =
        "Type A to G to write notes, 1 2 4 8 6 for their length · ↑ ↓ mend the note · Enter writes a chord";
    ui.label(RichText::new(hint).size(look.sizes.quiet).color(look.palette.quiet));
    ui.add_space(STEP);
}
