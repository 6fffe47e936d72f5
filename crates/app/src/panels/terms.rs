//! The terms of an effort as bars: costs to the right, credits to the left of a line.

use eframe::egui::{Align, CornerRadius, Layout, Painter, Rect, RichText, Sense, Stroke, Ui, pos2, vec2};
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

/// How wide the column of names is.
const NAME: f32 = 33.0 * STEP;
/// How wide the column of points is.
const POINTS: f32 = 9.0 * STEP;
/// How high a bar is.
const BAR: f32 = 2.0 * STEP;

/// Draws the terms one below the other, each with its bar and its points; `scale` points are as long as a bar can be.
pub fn list(ui: &mut Ui, look: &Look, terms: &[Term], scale: i32) {
    ui.spacing_mut().item_spacing.y = 0.0;
    if terms.is_empty() {
        ui.label(quiet(look, "no effort"));
    }
    for term in terms {
        ui.allocate_ui_with_layout(
            vec2(ui.available_width(), 5.5 * STEP),
            Layout::left_to_right(Align::Center),
            |ui| {
                let colour = if term.points < 0 { look.palette.easy } else { look.palette.ink };
                let (name, _) = ui.allocate_exact_size(vec2(NAME, 5.5 * STEP), Sense::hover());
                ui.put(name, |ui: &mut Ui| {
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                        ui.label(RichText::new(term.name).color(colour))
                    })
                    .inner
                });
                let width = ui.available_width() - POINTS - ui.spacing().item_spacing.x;
                let (rect, _) = ui.allocate_exact_size(vec2(width.max(0.0), BAR), Sense::hover());
                bar(ui.painter(), look, rect, term.points, scale);
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.label(RichText::new(names::points(term.points)).color(colour));
                });
            },
        );
    }
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
    painter.vline(line, rect.y_range().expand(2.0), Stroke::new(1.0, look.palette.line));
}

/// A small picture of many terms: costs upwards, credits downwards, side by side.
pub fn picture(painter: &Painter, look: &Look, rect: Rect, terms: &[Term], dim: f32) {
    /// Points to the height of the picture.
    const SCALE: f32 = 30.0;
    let line = rect.top() + rect.height() * 0.7;
    let width = 6.0;
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
    painter.hline(rect.x_range(), line, Stroke::new(1.0, look.palette.line));
}
