//! Draws the neck.

use eframe::egui::{Rect, Role as AccessRole, Sense, Stroke, Ui, Vec2, WidgetInfo};

use super::model::NeckModel;
use super::paint::{self, Geometry};
use crate::command::{Command, LockWish};
use crate::panels::{Look, Queue};

/// How high the neck is when it is so wide.
pub fn height(model: &NeckModel, width: f32) -> f32 {
    Geometry::height(model, width)
}

/// Draws the neck over the whole width; a click on another place of the melody note locks it there.
pub fn show(ui: &mut Ui, look: &Look, model: &NeckModel, queue: &mut Queue) {
    let size = Vec2::new(ui.available_width(), height(model, ui.available_width()));
    let (rect, response) = ui.allocate_exact_size(size, Sense::CLICK);
    response.widget_info(|| WidgetInfo::labeled(AccessRole::Figure, true, &model.words));
    let g = Geometry::new(model, rect);
    let painter = ui.painter_at(rect.expand(2.0));
    paint::wood(&painter, look, model, &g);
    paint::strings(&painter, look, model, &g);
    paint::legend(&painter, look, model, &g);
    paint::before(&painter, look, model, &g);
    let hovered = elsewhere(ui, look, model, &g, queue);
    for barre in &model.barres {
        paint::barre(&painter, look, model, &g, barre);
    }
    for mark in &model.marks {
        paint::mark(&painter, look, &g, g.spot(model, mark.spot), mark);
    }
    let place = response
        .interact_pointer_pos()
        .and_then(|at| g.spot_at(model, at))
        .and_then(|spot| model.place(spot));
    if let Some(place) = place.filter(|_| response.clicked()) {
        queue.push(Command::Neck(place));
    }
    let note = response.hover_pos().and_then(|at| g.spot_at(model, at)).and_then(|spot| model.note_at(spot));
    if let (Some(note), false) = (note, hovered) {
        response.on_hover_text_at_pointer(note);
    }
}

/// Other places of the melody note; gives whether one of them is pointed at.
fn elsewhere(ui: &Ui, look: &Look, model: &NeckModel, g: &Geometry, queue: &mut Queue) -> bool {
    let mut hovered = false;
    for other in &model.elsewhere {
        let at = g.spot(model, other.spot);
        let r = g.radius();
        let id = ui.scope_id().with(("melody on", other.string.index()));
        let spot = ui.interact(Rect::from_center_size(at, Vec2::splat(2.0 * r)), id, Sense::click());
        spot.widget_info(|| WidgetInfo::labeled(AccessRole::Button, true, &other.label));
        let width = if spot.hovered() || spot.has_focus() { 2.5 } else { 1.0 };
        let stroke = Stroke::new(width, look.palette.melody);
        ui.painter().circle_stroke(at, r * 0.62, stroke);
        hovered |= spot.hovered();
        if spot.clicked() {
            queue.push(Command::Lock(LockWish::MelodyOn(other.string)));
        }
        spot.on_hover_text(&other.label);
    }
    hovered
}
