//! The terms of an effort as bars: costs to the right, credits to the left of a line.

use eframe::egui::{
    Align2, CornerRadius, FontId, Painter, Rect, Role as AccessRole, Sense, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};
use handspan_core::grip::{GripEffort, MoveEffort};

use super::Look;
use super::widgets::quiet;
use crate::names;
use crate::theme::STEP;

/// A term of an effort.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Term {
    /// In a player's words.
    pub name: &'static str,
    /// Its points; credits are negative.
    pub points: i32,
}

/// The terms of a grip.
pub fn grip_terms(effort: &GripEffort) -> impl Iterator<Item = Term> + '_ {
    effort.terms().map(|(term, points)| Term { name: term.name(), points: points.points() })
}

/// The terms of a move.
pub fn move_terms(effort: &MoveEffort) -> impl Iterator<Item = Term> + '_ {
    effort.terms().map(|(term, points)| Term { name: term.name(), points: points.points() })
}

/// Room between the names and the bars.
const GAP: f32 = 2.0 * STEP;
/// How wide the column of points is.
const POINTS: f32 = 9.0 * STEP;
/// How high a row is, and its bar.
const ROW: f32 = 5.0 * STEP;
const BAR: f32 = 2.0 * STEP;

/// Draws the terms one below the other, each with its bar and its points; `scale` points are as long as a bar can be.
pub fn list(ui: &mut Ui, look: &Look, terms: &[Term], scale: i32) {
    ui.spacing_mut().item_spacing.y = 0.0;
    if terms.is_empty() {
        ui.label(quiet(look, "no effort"));
    }
    let names = names_width(ui, look, terms);
    for term in terms {
        let (row, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
        let points = names::points(term.points);
        response
            .widget_info(|| WidgetInfo::labeled(AccessRole::Label, true, format!("{} {points}", term.name)));
        let colour = if term.points < 0 { look.palette.easy } else { look.palette.ink };
        let font = FontId::proportional(look.sizes.body);
        let middle = row.center().y;
        ui.painter().text(row.left_center(), Align2::LEFT_CENTER, term.name, font.clone(), colour);
        ui.painter().text(row.right_center(), Align2::RIGHT_CENTER, points, font, colour);
        let bar_room = Rect::from_x_y_ranges(
            row.left() + names..=(row.right() - POINTS).max(row.left() + names),
            middle - BAR / 2.0..=middle + BAR / 2.0,
        );
        bar(ui.painter(), look, bar_room, term.points, scale);
    }
}

/// How wide the column of names has to be, so that none runs into its bar.
fn names_width(ui: &Ui, look: &Look, terms: &[Term]) -> f32 {
    let font = FontId::proportional(look.sizes.body);
    let width = |term: &Term| {
        ui.painter().layout_no_wrap(term.name.to_owned(), font.clone(), look.palette.ink).size().x
    };
    terms.iter().map(width).fold(0.0, f32::max) + GAP
}

/// A bar from the line that costs and credits start from.
fn bar(painter: &Painter, look: &Look, rect: Rect, points: i32, scale: i32) {
    // A quarter of the width is for credits, which are small.
    let line = rect.left() + rect.width() * 0.25;
    let full = if points < 0 { line - rect.left() } else { rect.right() - line };
    let share =
        (points.unsigned_abs() as f32 / scale.max(1) as f32 * if points < 0 { 3.0 } else { 1.0 }).min(1.0);
    let end = if points < 0 { line - full * share } else { line + full * share };
    let colour = if points < 0 { look.palette.easy } else { look.palette.other };
    let bar = Rect::from_two_pos(pos2(line, rect.top()), pos2(end, rect.bottom()));
    painter.rect_filled(bar, CornerRadius::same(2), colour);
    painter.vline(line, rect.y_range().expand(6.0), Stroke::new(1.0, look.palette.wire));
}

/// A small picture of many terms: costs upwards, credits downwards, side by side.
pub fn picture(painter: &Painter, look: &Look, rect: Rect, terms: &[Term], dim: f32) {
    /// Points to the height of the picture.
    const SCALE: f32 = 30.0;
    let line = rect.top() + rect.height() * 0.7;
    let width = (rect.width() / terms.len().max(5) as f32 - 2.0).clamp(4.0, 12.0);
    for (index, term) in terms.iter().enumerate() {
        let left = rect.left() + index as f32 * (width + 2.0);
        if left + width > rect.right() {
            break;
        }
        let height =
            (term.points as f32 / SCALE * rect.height()).clamp(line - rect.bottom(), line - rect.top());
        let colour = if term.points < 0 { look.palette.easy } else { look.palette.other };
        let bar = Rect::from_two_pos(pos2(left, line), pos2(left + width, line - height));
        painter.rect_filled(bar, CornerRadius::same(1), colour.gamma_multiply(dim));
    }
    painter.hline(rect.x_range(), line, Stroke::new(1.0, look.palette.wire.gamma_multiply(dim)));
}
