//! Controls that several panels share.

use eframe::egui::containers::menu::{MenuButton, MenuConfig};
use eframe::egui::{
    Button, Context, Frame, Id, Key, Margin, Memory, Modal, Popup, PopupCloseBehavior, Response, RichText, Ui,
};

use super::{Look, Queue};
use crate::command::{Command, entry_of, key_name};
use crate::session::Session;
use crate::theme::{STEP, medium, strong};

/// A button for a command of the table: its name, its key and what it does as a tooltip, greyed where it can do
/// nothing now.
pub fn command_button(ui: &mut Ui, session: &Session, command: &Command, queue: &mut Queue) -> Response {
    let name = entry_of(command).map_or("", |entry| entry.name);
    command_button_named(ui, session, command, name, queue)
}

/// The same under another name.
pub fn command_button_named(
    ui: &mut Ui,
    session: &Session,
    command: &Command,
    name: &str,
    queue: &mut Queue,
) -> Response {
    let response = ui.add_enabled(session.can(command), Button::new(name));
    if response.clicked() {
        queue.push(command.clone());
    }
    explained(response, command)
}

/// Adds the table's tooltip: what the command does and its key.
pub fn explained(response: Response, command: &Command) -> Response {
    let Some(entry) = entry_of(command) else {
        return response;
    };
    let key = entry.keys.first().map_or_else(String::new, |k| format!("  ({})", key_name(*k)));
    let tip = format!("{}{key}", entry.tip);
    response.on_hover_text(&tip).on_disabled_hover_text(tip)
}

/// A menu of several choices, which stays open while they are made.
pub fn choices(button: Button<'_>) -> MenuButton<'_> {
    let config = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    MenuButton::from_button(button).config(config)
}

/// What floats over the window until it is answered.
pub fn modal(name: &str, ctx: &Context) -> Modal {
    let frame = Frame::popup(&ctx.global_style()).inner_margin(Margin::same(5 * STEP as i8));
    Modal::new(Id::unique(name)).frame(frame)
}

/// Whether Enter may answer what floats over the window; asked before it is drawn, since an open list closes by Enter.
pub fn is_free_for_enter(ctx: &Context) -> bool {
    !Popup::is_any_open(ctx)
}

/// Whether Enter was pressed and means the whole that was filled in: in a field, which it leaves, or nowhere. On a
/// button it means the button. Asked after the fields are drawn.
pub fn enter(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Enter)) && ui.memory(Memory::focused).is_none()
}

/// A head over a part of a panel.
pub fn head(ui: &mut Ui, look: &Look, text: &str) {
    let text = RichText::new(text).font(medium(look.sizes.quiet)).color(look.palette.quiet);
    ui.label(text);
}

/// Quiet text.
pub fn quiet(look: &Look, text: impl Into<String>) -> RichText {
    RichText::new(text).size(look.sizes.quiet).color(look.palette.quiet)
}

/// Text that stands out by weight.
pub fn weighty(size: f32, text: impl Into<String>) -> RichText {
    RichText::new(text).font(strong(size))
}
