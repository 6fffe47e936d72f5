//! The form of a new tune.

use eframe::egui::{Context, DragValue, Grid, TextEdit, Ui};
use handspan_core::harmony::Key;
use handspan_core::time::{Metre, Tempo};

use super::offers;
use crate::command::{Command, FileWish, NewTune, TuneWish};
use crate::panels::widgets::{enter, is_free_for_enter, modal, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::theme::STEP;

/// The most bars that a new tune begins with; more can be added.
const MOST_BARS: usize = 200;

/// What has been filled in.
#[derive(Debug)]
pub(super) struct Form {
    tune: NewTune,
    is_open: bool,
}

impl Default for Form {
    fn default() -> Self {
        let tune = NewTune {
            title: String::new(),
            composer: String::new(),
            key: Key::default(),
            metre: Metre::COMMON,
            bars: 8,
            tempo: Tempo::MODERATE,
        };
        Self { tune, is_open: false }
    }
}

impl Form {
    pub(super) fn show(&mut self, ctx: &Context, look: &Look, queue: &mut Queue) {
        let just_opened = !std::mem::replace(&mut self.is_open, true);
        let entered = is_free_for_enter(ctx);
        let shown = modal("new tune", ctx).show(ctx, |ui| {
            ui.set_width(420.0);
            ui.label(weighty(look.sizes.head, "A new tune"));
            ui.label(quiet(look, "Everything can be changed later, and bars can be added."));
            ui.add_space(3.0 * STEP);
            self.fields(ui, look, just_opened);
            ui.add_space(4.0 * STEP);
            ui.horizontal(|ui| {
                if ui.button("Write this tune").clicked() || entered && enter(ui) {
                    self.is_open = false;
                    queue.push(Command::Tune(TuneWish::LeaveForm));
                    let tune = std::mem::take(self).tune;
                    queue.push(Command::File(FileWish::Begin(tune)));
                }
                if ui.button("Write nothing new").clicked() {
                    self.close(queue);
                }
            });
        });
        if shown.should_close() {
            self.close(queue);
        }
    }

    fn close(&mut self, queue: &mut Queue) {
        self.is_open = false;
        queue.push(Command::Tune(TuneWish::LeaveForm));
    }

    fn fields(&mut self, ui: &mut Ui, look: &Look, just_opened: bool) {
        let tune = &mut self.tune;
        Grid::new("new tune").num_columns(2).spacing([4.0 * STEP, 2.0 * STEP]).show(ui, |ui| {
            let label = ui.label(quiet(look, "title"));
            let title =
                ui.add(TextEdit::singleline(&mut tune.title).desired_width(280.0)).labelled_by(label.id);
            if just_opened {
                title.request_focus();
            }
            ui.end_row();
            let label = ui.label(quiet(look, "composer"));
            ui.add(TextEdit::singleline(&mut tune.composer).desired_width(280.0)).labelled_by(label.id);
            ui.end_row();
            tune.key = offers::key(ui, look, "new tune key", tune.key).unwrap_or(tune.key);
            ui.end_row();
            tune.metre = offers::metre(ui, look, "new tune metre", tune.metre).unwrap_or(tune.metre);
            ui.end_row();
            let label = ui.label(quiet(look, "bars"));
            ui.add(DragValue::new(&mut tune.bars).range(1..=MOST_BARS)).labelled_by(label.id);
            ui.end_row();
            let label = ui.label(quiet(look, "tempo, quarters a minute"));
            let mut tempo = tune.tempo.quarters_a_minute();
            ui.add(DragValue::new(&mut tempo).range(Tempo::MIN..=Tempo::MAX)).labelled_by(label.id);
            tune.tempo = Tempo::try_new(tempo).unwrap_or(tune.tempo);
            ui.end_row();
        });
    }
}
