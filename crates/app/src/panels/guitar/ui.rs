//! Draws the guitar's set-up.

use eframe::egui::{Button, ComboBox, Context, DragValue, RichText, TextEdit, Ui};
use handspan_core::arrangement::Edit;

use super::model::GuitarModel;
use crate::command::{Command, ViewWish};
use crate::panels::widgets::{enter, head, is_free_for_enter, modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// What the set-up remembers from frame to frame.
#[derive(Debug, Default)]
pub struct GuitarSetup {
    model: Option<GuitarModel>,
}

impl GuitarSetup {
    /// Shows the set-up over the window.
    pub fn show(&mut self, ctx: &Context, look: &Look, session: &Session, queue: &mut Queue) {
        let instrument = &session.work().plan.instrument;
        let just_opened = self.model.is_none();
        let entered = is_free_for_enter(ctx);
        let mut model = self.model.take().unwrap_or_else(|| GuitarModel::of(instrument));
        let mut done = false;
        let shown = modal("guitar", ctx).show(ctx, |ui| {
            ui.set_width(480.0);
            ui.label(weighty(look.sizes.head, "Set up the guitar"));
            ui.add_space(2.0 * STEP);
            tuning(ui, look, &mut model, just_opened);
            ui.add_space(2.0 * STEP);
            strings(ui, look, &mut model);
            ui.add_space(2.0 * STEP);
            neck(ui, look, &mut model);
            ui.add_space(3.0 * STEP);
            ui.horizontal(|ui| {
                let guitar = model.guitar();
                let use_it = Button::new("Use this guitar");
                let confirmed = ui.add_enabled(guitar.is_ok(), use_it).clicked() || entered && enter(ui);
                if confirmed && let Ok(guitar) = guitar {
                    queue.push(Command::Edit(Edit::Instrument(guitar)));
                    done = true;
                }
                done |= ui.button("Leave it as it is").clicked();
            });
        });
        if done || shown.should_close() {
            queue.push(Command::View(ViewWish::Guitar));
        } else {
            self.model = Some(model);
        }
    }
}

fn tuning(ui: &mut Ui, look: &Look, model: &mut GuitarModel, just_opened: bool) {
    let label = ui.label(quiet(look, "Tuning: a name, or the open strings from the lowest on"));
    let mut typed = model.tuning.clone();
    let field = ui.add(TextEdit::singleline(&mut typed).desired_width(f32::INFINITY)).labelled_by(label.id);
    if just_opened {
        field.request_focus();
    }
    if field.changed() {
        model.retune(&typed);
    }
    match model.guitar() {
        Ok(_) => ui.label(quiet(look, model.in_words().unwrap_or_default())),
        Err(fault) => ui.label(RichText::new(fault).size(look.sizes.quiet).color(look.palette.hard)),
    };
    by_name(ui, look, model);
}

/// The tunings that have a name, for as many strings.
fn by_name(ui: &mut Ui, look: &Look, model: &mut GuitarModel) {
    let names = model.names();
    if names.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        let label = ui.label(quiet(look, "Known tunings"));
        let now = model.name();
        let list = ComboBox::from_id_salt("known tunings").selected_text(now.unwrap_or("one of your own"));
        let shown = list.show_ui(ui, |ui| {
            for name in names {
                if ui.selectable_label(now == Some(name), name).clicked() {
                    model.retune(name);
                    ui.close();
                }
            }
        });
        shown.response.labelled_by(label.id);
    });
}

fn strings(ui: &mut Ui, look: &Look, model: &mut GuitarModel) {
    head(ui, look, "Strings");
    let count = model.guitar().map_or(0, |guitar| guitar.string_count());
    ui.horizontal(|ui| {
        for strings in GuitarModel::STRINGS {
            let name = format!("{strings} strings");
            let button = ui.selectable_label(count == strings, strings.to_string());
            button.widget_info(|| {
                eframe::egui::WidgetInfo::selected(eframe::egui::Role::Button, true, count == strings, &name)
            });
            if button.clicked()
                && let Some(with) = model.with_strings(strings)
            {
                *model = with;
            }
        }
    });
}

fn neck(ui: &mut Ui, look: &Look, model: &mut GuitarModel) {
    ui.horizontal(|ui| {
        let label = ui.label(quiet(look, "Frets"));
        ui.add(DragValue::new(&mut model.frets).range(12..=24)).labelled_by(label.id);
        ui.add_space(2.0 * STEP);
        let label = ui.label(quiet(look, "Scale length, nut to bridge"));
        let scale = DragValue::new(&mut model.scale).range(500.0..=750.0).suffix(" mm").max_decimals(0);
        ui.add(scale).labelled_by(label.id);
        ui.add_space(2.0 * STEP);
        let label = ui.label(quiet(look, "Capo"));
        let capo = DragValue::new(&mut model.capo).range(0..=12).custom_formatter(|fret, _| match fret {
            0.0 => "none".to_owned(),
            fret => format!("fret {fret}"),
        });
        ui.add(capo).labelled_by(label.id);
    });
}
