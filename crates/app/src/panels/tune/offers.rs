//! Keys, metres and roles of parts to choose from.

use eframe::egui::{ComboBox, Ui};
use handspan_core::harmony::{Key, Mode};
use handspan_core::time::Metre;

use crate::panels::Look;
use crate::panels::widgets::quiet;
use crate::session::Role;

/// Metres of lead sheets, simple ones first.
const METRES: [(u8, u8); 11] =
    [(4, 4), (3, 4), (2, 4), (2, 2), (5, 4), (6, 4), (6, 8), (9, 8), (12, 8), (3, 8), (7, 8)];

/// Offers every key signature with its two modes, a caption before them; gives the one chosen.
pub(super) fn key(ui: &mut Ui, look: &Look, id: &str, now: Key) -> Option<Key> {
    let mut chosen = now;
    let caption = ui.label(quiet(look, "key"));
    let offered =
        ComboBox::from_id_salt(id).selected_text(format!("{now:#}")).height(320.0).show_ui(ui, |ui| {
            for mode in [Mode::Major, Mode::Minor] {
                for fifths in [0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6, 7, -7] {
                    if let Some(key) = Key::try_new(fifths, mode) {
                        choice(ui, &mut chosen, key, &format!("{key:#}"));
                    }
                }
            }
        });
    offered.response.labelled_by(caption.id);
    (chosen != now).then_some(chosen)
}

/// Offers the metres, a caption before them; gives the one chosen.
pub(super) fn metre(ui: &mut Ui, look: &Look, id: &str, now: Metre) -> Option<Metre> {
    let mut chosen = now;
    let caption = ui.label(quiet(look, "metre"));
    let offered = ComboBox::from_id_salt(id).selected_text(now.to_string()).height(320.0).show_ui(ui, |ui| {
        for (beats, unit) in METRES {
            if let Some(metre) = Metre::try_new(beats, unit) {
                choice(ui, &mut chosen, metre, &metre.to_string());
            }
        }
    });
    offered.response.labelled_by(caption.id);
    (chosen != now).then_some(chosen)
}

/// A row of a list: chosen by a click or a key, it closes the list.
fn choice<T: PartialEq>(ui: &mut Ui, chosen: &mut T, this: T, name: &str) {
    if ui.selectable_value(chosen, this, name).clicked() {
        ui.close();
    }
}

/// Offers what a part of a score may be read as, its name before it; gives what was chosen.
pub(super) fn role(ui: &mut Ui, name: &str, (index, has_notes): (usize, bool), now: Role) -> Option<Role> {
    let mut chosen = now;
    let caption = ui.label(name);
    ui.add_enabled_ui(has_notes, |ui| {
        let text = if has_notes { now.name() } else { "no notes" };
        let offered = ComboBox::from_id_salt(("role", index)).selected_text(text).show_ui(ui, |ui| {
            for role in Role::ALL {
                choice(ui, &mut chosen, role, role.name());
            }
        });
        offered.response.labelled_by(caption.id);
    });
    (chosen != now).then_some(chosen)
}
