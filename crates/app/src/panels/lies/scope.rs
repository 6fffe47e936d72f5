//! The choice of what is compared: tunings, capo positions, octaves.

use eframe::egui::{Button, DragValue, Ui};
use handspan_core::arrangement::{LieScope, Octaves};

use crate::command::{Command, LieWish};
use crate::panels::widgets::{choices, head};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// Width of the menu.
const MENU: f32 = 62.0 * STEP;
/// The farthest capo that can be compared: beyond, no player puts one.
const FARTHEST_CAPO: u8 = 9;

/// Draws a button that says what is compared and opens the choice.
pub(super) fn show(ui: &mut Ui, look: &Look, session: &Session, now: &str, queue: &mut Queue) {
    choices(Button::new(format!("{now} ▾"))).ui(ui, |ui| {
        ui.set_max_width(MENU);
        let before = session.lie_scope();
        let mut scope = before.clone();
        head(ui, look, "tunings");
        tunings(ui, session, &mut scope);
        ui.separator();
        ui.horizontal(|ui| {
            let label = ui.label("capo up to fret");
            let mut highest = *scope.capos.end();
            ui.add(DragValue::new(&mut highest).range(0..=FARTHEST_CAPO)).labelled_by(label.id);
            scope.capos = 0..=highest;
        });
        let mut every = scope.octaves == Octaves::Every;
        ui.checkbox(&mut every, "other octaves of each key too")
            .on_hover_text("Otherwise the one nearest to the tune as written");
        scope.octaves = if every { Octaves::Every } else { Octaves::Nearest };
        if scope != before {
            queue.push(Command::Lie(LieWish::Within(scope)));
        }
    });
}

/// The tunings with a tick each; the last one stays ticked.
fn tunings(ui: &mut Ui, session: &Session, scope: &mut LieScope) {
    for tuning in session.lie_tunings() {
        let place = scope.tunings.iter().position(|chosen| *chosen == tuning);
        let mut is_chosen = place.is_some();
        if !ui.checkbox(&mut is_chosen, tuning.name()).changed() {
            continue;
        }
        match place {
            None => scope.tunings.push(tuning),
            Some(place) if scope.tunings.len() > 1 => {
                scope.tunings.remove(place);
            }
            Some(_) => {}
        }
    }
}
