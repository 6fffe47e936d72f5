//! Draws the list of grips as a grid of cards. Only the cards in sight are made and painted.

use std::collections::BTreeMap;

use eframe::egui::{Rect, ScrollArea, Ui, pos2, vec2};

use super::card::{self, Standing};
use super::model::{VoicingRow, VoicingsModel};
use crate::panels::own_grip;
use crate::panels::widgets::quiet;
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// What the list remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Voicings {
    shown: Option<(usize, Option<usize>)>,
    /// The rows in sight, as of a revision of the list.
    rows: BTreeMap<usize, VoicingRow>,
    revision: u64,
}

impl Voicings {
    /// Draws the list, or the grip that is being built, in what room there is.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        if session.own().is_some() {
            own_grip::show(ui, look, session, queue);
            return;
        }
        let Some(model) = VoicingsModel::of(session) else {
            ui.label(quiet(look, "The grips are listed here once the tune is arranged."));
            return;
        };
        super::bar::show(ui, look, session, &model, queue);
        ui.add_space(STEP);
        if model.passing() == 0 && model.is_current {
            let words = if model.of == 0 {
                "Nothing has to be struck here: what sounded before rings on."
            } else {
                "No grip passes the filters. Show all, or ask for less."
            };
            ui.label(quiet(look, words));
        }
        self.grid(ui, look, session, &model, queue);
    }

    fn grid(
        &mut self,
        ui: &mut Ui,
        look: &Look,
        session: &Session,
        model: &VoicingsModel,
        queue: &mut Queue,
    ) {
        if self.revision != session.browsing().revision() {
            self.rows.clear();
            self.revision = session.browsing().revision();
        }
        let chosen = model.looked_at.or(model.in_route);
        let moved = self.shown != Some((session.moment_index(), chosen));
        self.shown = Some((session.moment_index(), chosen));
        ui.spacing_mut().item_spacing.y = 0.0;
        ScrollArea::vertical().auto_shrink(false).show_viewport(ui, |ui, view| {
            let grid = Grid::new(model, ui.max_rect(), view.height());
            ui.set_height(grid.height(model.rows));
            let sight = grid.rows_in(view, model.rows);
            self.rows.retain(|row, _| sight.contains(row));
            for row in sight {
                if !self.rows.contains_key(&row) {
                    self.rows.extend(VoicingRow::of(session, row).map(|content| (row, content)));
                }
                if let Some(content) = self.rows.get(&row) {
                    let at = Standing {
                        row,
                        chosen: chosen == Some(row),
                        in_route: model.in_route == Some(row),
                        fails_filter: model.route_fails_filter && model.in_route == Some(row),
                        is_current: model.is_current,
                        scale: grid.scale,
                    };
                    card::show(ui, look, grid.cell(row), content, at, queue);
                }
            }
            if let Some(row) = chosen.filter(|_| moved) {
                ui.scroll_to_rect(grid.cell(row), None);
            }
        });
    }
}

/// Where the cards lie, and how large they are.
struct Grid {
    corner: eframe::egui::Pos2,
    columns: usize,
    cell: eframe::egui::Vec2,
    scale: f32,
}

/// How much larger than they have to be cards are drawn where there is room for them.
const SCALES: [f32; 3] = [1.5, 1.25, 1.0];
/// So many cards are in sight at least before they are drawn larger.
const IN_SIGHT: usize = 18;

impl Grid {
    /// The largest cards of which all are in sight, or many.
    fn new(model: &VoicingsModel, room: Rect, height: f32) -> Self {
        let of = |scale: f32| {
            let least = card::size(model.strings, scale);
            let columns = (room.width() / least.x).floor().max(1.0);
            let cell = vec2(room.width() / columns, least.y);
            Self { corner: room.min, columns: columns as usize, cell, scale }
        };
        let in_sight = |grid: &Self| (height / grid.cell.y) as usize * grid.columns;
        SCALES
            .into_iter()
            .map(of)
            .find(|grid| in_sight(grid) >= model.rows.min(IN_SIGHT))
            .unwrap_or_else(|| of(1.0))
    }

    fn height(&self, rows: usize) -> f32 {
        self.cell.y * rows.div_ceil(self.columns) as f32
    }

    fn cell(&self, row: usize) -> Rect {
        let (line, column) = (row / self.columns, row % self.columns);
        let corner =
            pos2(self.corner.x + self.cell.x * column as f32, self.corner.y + self.cell.y * line as f32);
        Rect::from_min_size(corner, self.cell)
    }

    /// The rows that a part of the grid shows.
    fn rows_in(&self, view: Rect, rows: usize) -> std::ops::Range<usize> {
        let first = (view.top() / self.cell.y).floor().max(0.0) as usize * self.columns;
        let end = (view.bottom() / self.cell.y).ceil().max(0.0) as usize * self.columns;
        first.min(rows)..end.min(rows)
    }
}
