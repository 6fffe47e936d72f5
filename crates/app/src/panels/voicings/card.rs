//! A grip as a card: its chord box, what it costs as a number and as a picture, its notes.

use eframe::egui::{
    Align2, CornerRadius, FontId, Painter, Rect, Role as AccessRole, Sense, Stroke, StrokeKind, Ui, Vec2,
    WidgetInfo, pos2, vec2,
};

use super::model::VoicingRow;
use crate::command::{Browse, Command, LockWish};
use crate::names;
use crate::panels::{Look, Queue, chord_box, terms};
use crate::theme::{STEP, strong};

/// Room between cards, and within.
const GAP: f32 = 2.0 * STEP;
/// Room beside the chord box for what the grip costs.
const BESIDE: f32 = 22.0 * STEP;
/// Room under the chord box for its notes.
const UNDER: f32 = 6.0 * STEP;

/// How a grip stands in the list.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Standing {
    /// Its row.
    pub(super) row: usize,
    /// Whether it is shown on the neck.
    pub(super) chosen: bool,
    /// Whether the route has it.
    pub(super) in_route: bool,
    /// Whether the filter leaves it out.
    pub(super) fails_filter: bool,
    /// Whether the list belongs to this moment.
    pub(super) is_current: bool,
    /// How much larger than it has to be it is drawn.
    pub(super) scale: f32,
}

/// The smallest card, with the gap to the next.
pub(super) fn size(strings: usize, scale: f32) -> Vec2 {
    chord_box::size(strings, scale) + scale * vec2(BESIDE + 3.0 * GAP, UNDER + 3.0 * GAP)
}

/// Draws a card into its place in the grid.
pub(super) fn show(ui: &Ui, look: &Look, cell: Rect, row: &VoicingRow, at: Standing, queue: &mut Queue) {
    let rect = cell.shrink(GAP / 2.0);
    let response = ui.interact(rect, ui.scope_id().with(("grip", at.row)), Sense::click());
    response.widget_info(|| {
        let fails = if at.fails_filter { ", does not pass the filter" } else { "" };
        let words = format!("{}{fails}", row.words(at.row));
        WidgetInfo::selected(AccessRole::ListBoxOption, true, at.chosen, words)
    });
    if response.clicked() {
        queue.push(Command::Browse(Browse::Row(at.row)));
    }
    if response.double_clicked() {
        queue.push(Command::Lock(LockWish::Take));
    }
    let painter = ui.painter_at(cell.intersect(ui.clip_rect()));
    frame(&painter, look, rect, at, response.hovered());
    content(&painter, look, rect.shrink(GAP), row, at);
    response.on_hover_text(format!("{}\n{}", row.frets, row.terms_in_words()));
}

fn frame(painter: &Painter, look: &Look, rect: Rect, at: Standing, hovered: bool) {
    let radius = CornerRadius::same(look.sizes.radius);
    let fill = if at.chosen || hovered { look.palette.panel } else { look.palette.ground };
    let (width, colour) = if at.chosen { (2.0, look.palette.melody) } else { (1.0, look.palette.line) };
    painter.rect(rect, radius, fill, Stroke::new(width, colour), StrokeKind::Inside);
}

fn content(painter: &Painter, look: &Look, rect: Rect, row: &VoicingRow, at: Standing) {
    let (dim, scale) = (if at.is_current { 1.0 } else { 0.5 }, at.scale);
    let (ink, still) = (look.palette.ink.gamma_multiply(dim), look.palette.quiet.gamma_multiply(dim));
    let small = FontId::proportional(scale * look.sizes.quiet);
    chord_box::paint(painter, look, rect.min, &row.grip, (row.boxed, scale));
    let beside = |down: f32| pos2(rect.right() - 1.0, rect.top() + scale * down);
    painter.text(beside(0.0), Align2::RIGHT_TOP, at.row + 1, small.clone(), still);
    let total = names::points(row.total);
    painter.text(beside(16.0), Align2::RIGHT_TOP, total, strong(scale * look.sizes.chord), ink);
    let (tag, tag_ink) = if at.in_route { ("in the route", look.palette.melody) } else { ("effort", still) };
    painter.text(beside(42.0), Align2::RIGHT_TOP, tag, small.clone(), tag_ink);
    if at.fails_filter {
        painter.text(beside(57.0), Align2::RIGHT_TOP, "fails the filter", small, look.palette.careful);
    }
    let boxed = chord_box::size(row.boxed.strings, scale);
    let left = rect.left() + boxed.x + 2.0 * STEP;
    let picture = Rect::from_two_pos(
        pos2(left, rect.top() + boxed.y),
        beside(if at.fails_filter { 77.0 } else { 62.0 }),
    );
    terms::picture(painter, look, picture, &row.terms, dim);
    let font = FontId::proportional(scale * look.sizes.body);
    let notes = painter.layout_no_wrap(row.notes.clone(), font, ink);
    let clipped = painter.with_clip_rect(painter.clip_rect().intersect(rect));
    clipped.galley(pos2(rect.left() + STEP, rect.bottom() - notes.size().y), notes, ink);
}
