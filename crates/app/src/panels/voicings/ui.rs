//! Draws the list of grips.

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{
    Align2, ComboBox, CornerRadius, FontId, Rect, Role as AccessRole, ScrollArea, Sense, Stroke, Ui,
    WidgetInfo, pos2, vec2,
};

use super::chord_box;
use super::model::{VoicingRow, VoicingsModel};
use crate::command::{Browse, Command, LockWish};
use crate::names;
use crate::panels::widgets::{quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, medium, strong};
use handspan_core::grip::Order;

/// How high a row is.
const ROW: f32 = 76.0;

/// How wide the column of totals is.
const TOTAL: f32 = 96.0;

/// What the list remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Voicings {
    shown: Option<(usize, Option<usize>)>,
}

impl Voicings {
    /// Draws the list in what room there is.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let model = VoicingsModel::of(session);
        top(ui, look, &model, queue);
        ui.add_space(STEP);
        if model.rows == 0 && model.is_current {
            ui.label(quiet(look, "Nothing has to be struck here: what sounded before rings on."));
            return;
        }
        let chosen = model.looked_at.or(model.in_route);
        let moved = self.shown != Some((session.moment_index(), chosen));
        self.shown = Some((session.moment_index(), chosen));
        ui.spacing_mut().item_spacing.y = 0.0;
        ScrollArea::vertical().auto_shrink(false).show_viewport(ui, |ui, view| {
            ui.set_height(ROW * model.rows as f32);
            let top = ui.max_rect().top();
            let row_rect = |row: usize| {
                let left_top = pos2(ui.max_rect().left(), top + ROW * row as f32);
                Rect::from_min_size(left_top, vec2(ui.available_width(), ROW))
            };
            let first = (view.top() / ROW).floor().max(0.0) as usize;
            let last = ((view.bottom() / ROW).ceil() as usize).min(model.rows);
            for row in first..last {
                if let Some(content) = VoicingRow::of(session, row) {
                    show_row(ui, look, &model, row_rect(row), (row, &content), queue);
                }
            }
            if let Some(row) = chosen.filter(|_| moved) {
                ui.scroll_to_rect(row_rect(row), None);
            }
        });
    }
}

fn top(ui: &mut Ui, look: &Look, model: &VoicingsModel, queue: &mut Queue) {
    ui.horizontal(|ui| {
        ui.label(weighty(look.sizes.head, "Grips for this moment"));
        let count = match model.rows {
            0 if !model.is_current => "being ranked".to_owned(),
            0 => "nothing to hold".to_owned(),
            1 => "1 can be held".to_owned(),
            n => format!("{n} can be held"),
        };
        ui.label(quiet(look, count));
        let mut chosen = model.order;
        let combo = ComboBox::from_id_salt("order")
            .selected_text(format!("{} first", model.order.name()))
            .show_ui(ui, |ui| {
                for order in Order::ALL {
                    ui.selectable_value(&mut chosen, order, order.name());
                }
            });
        combo.response.on_hover_text("How the grips are ranked");
        if chosen != model.order {
            queue.push(Command::Browse(Browse::By(chosen)));
        }
    });
}

fn show_row(
    ui: &Ui,
    look: &Look,
    model: &VoicingsModel,
    rect: Rect,
    (row, content): (usize, &VoicingRow),
    queue: &mut Queue,
) {
    let palette = &look.palette;
    let response = ui.interact(rect, ui.scope_id().with(("grip", row)), Sense::click());
    let looked_at = model.looked_at == Some(row);
    let in_route = model.in_route == Some(row);
    let chosen = looked_at || (in_route && model.looked_at.is_none());
    response
        .widget_info(|| WidgetInfo::selected(AccessRole::ListBoxOption, true, chosen, content.words(row)));
    if response.clicked() {
        queue.push(Command::Browse(Browse::Row(row)));
    }
    if response.double_clicked() {
        queue.push(Command::Lock(LockWish::Take));
    }
    let painter = ui.painter_at(rect.intersect(ui.clip_rect()));
    if chosen || response.hovered() {
        let radius = CornerRadius::same(look.sizes.radius);
        painter.rect_filled(rect.shrink2(vec2(0.0, 1.0)), radius, palette.panel);
    }
    if chosen {
        let bar = Rect::from_min_size(rect.min + vec2(0.0, 2.0 * STEP), vec2(3.0, ROW - 4.0 * STEP));
        painter.rect_filled(bar, CornerRadius::same(1), palette.melody);
    }
    painter.hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, palette.line));
    let dim = if model.is_current { 1.0 } else { 0.5 };
    let ink = palette.ink.gamma_multiply(dim);
    let still = palette.quiet.gamma_multiply(dim);
    let small = FontId::proportional(look.sizes.quiet);
    let middle = rect.center().y;
    let left = rect.left();
    painter.text(pos2(left + 32.0, middle), Align2::RIGHT_CENTER, row + 1, small.clone(), still);
    let size = chord_box::size(content.strings);
    chord_box::paint(
        &painter,
        look,
        pos2(left + 40.0, middle - size.y / 2.0),
        &content.grip,
        content.strings,
    );
    let text = left + 40.0 + size.x + 5.0 * STEP;
    painter.text(
        pos2(text, middle - 22.0),
        Align2::LEFT_CENTER,
        &content.frets,
        strong(look.sizes.body),
        ink,
    );
    painter.text(
        pos2(text, middle - 2.0),
        Align2::LEFT_CENTER,
        &content.notes,
        FontId::proportional(look.sizes.body),
        still,
    );
    let mut terms = LayoutJob::simple_singleline(content.terms_in_words(), small.clone(), still);
    terms.wrap = TextWrapping::truncate_at_width(rect.right() - TOTAL - text);
    let terms = painter.layout_job(terms);
    painter.galley(pos2(text, middle + 18.0 - terms.size().y / 2.0), terms, still);
    let right = rect.right() - 4.0 * STEP;
    let total = names::points(content.total);
    painter.text(pos2(right, middle - 8.0), Align2::RIGHT_CENTER, total, medium(look.sizes.head), ink);
    let tag = if in_route { "in the route" } else { "effort" };
    let tag_ink = if in_route { palette.melody } else { still };
    painter.text(pos2(right, middle + 10.0), Align2::RIGHT_CENTER, tag, small, tag_ink);
}
