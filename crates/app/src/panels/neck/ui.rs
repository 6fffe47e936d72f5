//! Draws the neck.

use eframe::egui::{Rect, Role as AccessRole, Sense, Stroke, Ui, Vec2, WidgetInfo};

use super::glide::Glide;
use super::model::NeckModel;
use super::paint::{self, Geometry};
use crate::command::{Command, LockWish};
use crate::panels::{Look, Queue};

/// What the neck remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Neck {
    glide: Glide,
}

/// How high the neck is when it is so wide.
pub fn height(model: &NeckModel, width: f32) -> f32 {
    Geometry::height(model, width)
}

impl Neck {
    /// Draws the neck over the whole width. A click on another place of the melody note locks it there; while a grip is
    /// built, a click anywhere puts a finger there.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, model: &NeckModel, queue: &mut Queue) {
        let size = Vec2::new(ui.available_width(), height(model, ui.available_width()));
        let (rect, response) = ui.allocate_exact_size(size, Sense::CLICK);
        response.widget_info(|| WidgetInfo::labeled(AccessRole::Figure, true, &model.words));
        let g = Geometry::new(model, rect);
        let painter = ui.painter_at(rect.expand(2.0));
        paint::wood(&painter, look, model, &g);
        paint::strings(&painter, look, model, &g);
        paint::building(&painter, look, model, &g);
        paint::legend(&painter, look, model, &g);
        paint::numbers(&painter, look, model, &g);
        paint::tones(&painter, look, model, &g);
        let pointed_at = response.hover_pos().and_then(|at| g.spot_at(model, at));
        let clicked_at = response.interact_pointer_pos().and_then(|at| g.spot_at(model, at));
        if let (true, Some(place)) = (response.clicked(), clicked_at.and_then(|spot| model.place(spot))) {
            queue.push(Command::Neck(place));
        }
        let hovered = if model.building.is_some() {
            false
        } else {
            paint::ways(&painter, look, model, &g);
            let waiting = waiting(ui, look, model, &g);
            elsewhere(ui, look, model, &g, queue) || waiting
        };
        for barre in &model.barres {
            paint::barre(&painter, look, model, &g, barre);
        }
        let places = self.glide.places(ui, model, |spot| g.spot(model, spot));
        for (mark, at) in model.marks.iter().zip(places) {
            paint::mark(&painter, look, &g, at, mark);
        }
        if let (Some(spot), true) = (pointed_at, model.building.is_some()) {
            let accent = Stroke::new(1.5, look.palette.melody);
            painter.circle_stroke(g.spot(model, spot), g.radius() * 0.9, accent);
        }
        if let (Some(note), false) = (pointed_at.and_then(|spot| model.note_at(spot)), hovered) {
            response.on_hover_text_at_pointer(note);
        }
    }
}

/// Fingers that may be down already; gives whether one of them is pointed at.
fn waiting(ui: &Ui, look: &Look, model: &NeckModel, g: &Geometry) -> bool {
    let mut hovered = false;
    for finger in &model.waiting {
        for spot in &finger.spots {
            let at = g.spot(model, *spot);
            paint::waiting(ui.painter(), look, g, at, finger.finger);
            let id = ui.scope_id().with(("waits on", spot.string, finger.finger));
            let ring = Rect::from_center_size(at, Vec2::splat(2.0 * g.radius()));
            let response = ui.interact(ring, id, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(AccessRole::Label, true, &finger.label));
            hovered |= response.hovered();
            response.on_hover_text(&finger.label);
        }
    }
    hovered
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
