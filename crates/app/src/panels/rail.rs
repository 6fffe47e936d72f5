//! The rail on the left: the places of the window by name, the list of keys below.

use eframe::egui::{
    Align, Align2, CornerRadius, Layout, Rect, Role as AccessRole, Sense, Ui, WidgetInfo, pos2, vec2,
};

use super::widgets::{command_button_named, explained};
use super::{Look, Queue};
use crate::command::{Command, ViewWish, entry_of};
use crate::session::{Place, Session};
use crate::theme::{STEP, medium};

/// How wide the rail is.
pub const WIDTH: f32 = 22.0 * STEP;
/// How high the target of a place is.
const TARGET: f32 = 14.0 * STEP;

/// Draws the rail over the whole height.
pub fn show(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    ui.add_space(3.0 * STEP);
    ui.spacing_mut().item_spacing.y = STEP;
    for place in Place::ALL {
        target(ui, look, session, *place, queue);
    }
    ui.with_layout(Layout::bottom_up(Align::Center), |ui| {
        ui.add_space(3.0 * STEP);
        command_button_named(ui, session, &Command::View(ViewWish::Keys), "?", queue);
        plain(ui, session, ViewWish::Preferences, "Preferences", queue);
        plain(ui, session, ViewWish::Search, "Search", queue);
    });
}

/// A word that is a button, for what is seldom used.
fn plain(ui: &mut Ui, session: &Session, wish: ViewWish, name: &str, queue: &mut Queue) {
    ui.scope(|ui| {
        ui.spacing_mut().button_padding.x = 0.0;
        ui.visuals_mut().widgets.inactive.bg_stroke = eframe::egui::Stroke::NONE;
        command_button_named(ui, session, &Command::View(wish), name, queue);
    });
}

fn target(ui: &mut Ui, look: &Look, session: &Session, place: Place, queue: &mut Queue) {
    let command = Command::View(ViewWish::Place(place));
    let name = entry_of(&command).map_or("", |entry| entry.name);
    let here = session.place() == place;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), TARGET), Sense::click());
    response.widget_info(|| WidgetInfo::selected(AccessRole::Tab, true, here, name));
    if response.clicked() {
        queue.push(command.clone());
    }
    let palette = &look.palette;
    if here || response.hovered() || response.has_focus() {
        let fill = if here { palette.ground } else { palette.lifted };
        ui.painter().rect_filled(rect, CornerRadius::same(look.sizes.radius), fill);
    }
    if here {
        let bar =
            Rect::from_min_size(pos2(rect.left(), rect.top() + 3.0 * STEP), vec2(3.0, TARGET - 6.0 * STEP));
        ui.painter().rect_filled(bar, CornerRadius::same(1), palette.melody);
    }
    let ink = if here { palette.ink } else { palette.quiet };
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, name, medium(look.sizes.place), ink);
    explained(response, &command);
}
