//! Draws what is said of the grip that is being built.

use eframe::egui::{
    Align2, Button, CornerRadius, FontId, RichText, Role as AccessRole, ScrollArea, Sense, Stroke,
    StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::model::{OwnGripModel, Way};
use crate::command::{Command, LockWish, OwnWish};
use crate::names;
use crate::panels::chord_box::{self, Boxed};
use crate::panels::widgets::{command_button, explained, head, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, medium, strong};

/// Draws the place where a grip is built.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let Some(model) = OwnGripModel::of(session) else {
        return;
    };
    ui.horizontal(|ui| {
        ui.label(weighty(look.sizes.head, "Your own grip"));
        ui.label(quiet(
            look,
            format!("Click the neck, or: digits choose a string, ← → the fret. Now: {}", model.at),
        ));
    });
    ui.add_space(STEP);
    ui.horizontal(|ui| {
        take(ui, look, session, &model, queue);
        for wish in [OwnWish::Clear, OwnWish::Toggle] {
            let command = Command::Own(wish);
            let name = if wish == OwnWish::Clear { "Silence all strings" } else { "Leave" };
            let response = ui.add_enabled(session.can(&command), Button::new(name));
            if explained(response, &command).clicked() {
                queue.push(command);
            }
        }
    });
    if let Some(why) = &model.not_taken {
        ui.label(RichText::new(why).color(look.palette.careful));
    }
    ui.add_space(2.0 * STEP);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        what_it_is(ui, look, &model);
        ui.add_space(3.0 * STEP);
        who_can_hold_it(ui, look, session, &model, queue);
    });
}

fn take(ui: &mut Ui, look: &Look, session: &Session, model: &OwnGripModel, queue: &mut Queue) {
    let take = Command::Lock(LockWish::Take);
    let name = RichText::new("Lock it here").font(medium(look.sizes.body));
    let button = if model.not_taken.is_none() {
        Button::new(name.color(look.palette.on_mark)).fill(look.palette.melody)
    } else {
        Button::new(name)
    };
    let response = ui.add_enabled(session.can(&take), button);
    if explained(response, &take).clicked() {
        queue.push(take);
    }
}

fn what_it_is(ui: &mut Ui, look: &Look, model: &OwnGripModel) {
    if model.notes.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        let chord = model.chord.as_deref().unwrap_or("–");
        ui.label(RichText::new(chord).font(strong(look.sizes.chord * 1.25)));
        ui.vertical(|ui| {
            ui.label(model.notes.join("   "));
            ui.label(quiet(look, &model.also));
        });
    });
}

fn who_can_hold_it(ui: &mut Ui, look: &Look, session: &Session, model: &OwnGripModel, queue: &mut Queue) {
    let colour =
        if model.can_be_held || model.notes.is_empty() { look.palette.ink } else { look.palette.hard };
    ui.label(weighty(look.sizes.head, &model.sentence).color(colour));
    for reason in &model.reasons {
        ui.label(RichText::new(reason).size(look.sizes.body));
    }
    ui.add_space(STEP);
    if let Some(nearest) = &model.nearest {
        ui.horizontal(|ui| {
            head(ui, look, &format!("Nearest that can be held: {}", nearest.words));
            command_button(ui, session, &Command::Own(OwnWish::Nearest), queue);
        });
        if way(ui, look, nearest, model.boxed, "Nearest grip") {
            queue.push(Command::Own(OwnWish::Nearest));
        }
    }
    ui.horizontal_wrapped(|ui| {
        for (index, one) in model.ways.iter().enumerate() {
            if way(ui, look, one, model.boxed, &format!("Way {}", index + 1)) {
                queue.push(Command::Own(OwnWish::Way(index)));
            }
        }
    });
}

/// A way to hold it as a card; gives whether it was clicked.
fn way(ui: &mut Ui, look: &Look, way: &Way, boxed: Boxed, name: &str) -> bool {
    let size = chord_box::size(boxed.strings, 1.0);
    let (rect, response) = ui.allocate_exact_size(size + vec2(4.0 * STEP, 10.0 * STEP), Sense::click());
    response.widget_info(|| {
        WidgetInfo::selected(AccessRole::RadioButton, true, way.chosen, format!("{name}: {}", way.words))
    });
    let palette = &look.palette;
    let fill = if way.chosen || response.hovered() { palette.panel } else { palette.ground };
    let (width, colour) = if way.chosen { (2.0, palette.melody) } else { (1.0, palette.line) };
    let radius = CornerRadius::same(look.sizes.radius);
    ui.painter().rect(rect, radius, fill, Stroke::new(width, colour), StrokeKind::Inside);
    let inner = rect.shrink(2.0 * STEP);
    chord_box::paint(ui.painter(), look, inner.min, &way.grip, (boxed, 1.0));
    let under = inner.bottom() - 3.0;
    let small = FontId::proportional(look.sizes.quiet);
    ui.painter().text(pos2(inner.left() + STEP, under), Align2::LEFT_BOTTOM, "effort", small, palette.quiet);
    let points = names::points(way.effort);
    let font = strong(look.sizes.head);
    ui.painter().text(pos2(inner.right(), under + 2.0), Align2::RIGHT_BOTTOM, points, font, palette.ink);
    response.on_hover_text(&way.words).clicked()
}
