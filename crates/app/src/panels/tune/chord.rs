//! The field in which a chord symbol is typed, with what it is read as beneath it.

use eframe::egui::text::CCursorRange;
use eframe::egui::text_edit::TextEditState;
use eframe::egui::{
    Area, Button, EventFilter, Frame, Id, Key, Margin, Modifiers, Order, Rect, Response, RichText, TextEdit,
    Ui, pos2, vec2,
};
use handspan_core::arrangement::Edit;
use handspan_core::time::Ticks;
use handspan_core::tune::Mend;

use super::help::ChordHelp;
use crate::command::{Command, TuneWish};
use crate::panels::widgets::quiet;
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::{STEP, medium};

/// How wide the field is.
pub(super) const WIDTH: f32 = 128.0;

/// What is typed, and where.
#[derive(Debug, Default)]
pub(super) struct ChordField {
    at: Option<Ticks>,
    text: String,
    /// What was typed before a suggestion was chosen by the arrow keys, and which.
    typed: String,
    chosen: Option<usize>,
}

/// What a key said.
enum Said {
    Nothing,
    Done,
    Next,
    Leave,
}

impl ChordField {
    /// Forgets what was typed.
    pub(super) fn close(&mut self) {
        *self = Self::default();
    }

    /// Draws the field over a beat of the grid.
    pub(super) fn show(
        &mut self,
        ui: &mut Ui,
        rect: Rect,
        look: &Look,
        session: &Session,
        queue: &mut Queue,
    ) {
        let Some(at) = session.writing().chord() else {
            return;
        };
        let just_opened = self.at != Some(at);
        if just_opened {
            let there = session.work().tune.chords().iter().find(|chord| chord.at == at);
            let text = there.map_or_else(String::new, |chord| chord.symbol.to_string());
            *self = Self { at: Some(at), typed: text.clone(), text, chosen: None };
        }
        let help = ChordHelp::of(&self.text);
        let said = self.listen(ui);
        let name = format!("Chord in {}", session.work().tune.bar_beat(at));
        let field = TextEdit::singleline(&mut self.text)
            .font(medium(look.sizes.head))
            .event_filter(EventFilter { tab: true, escape: true, ..EventFilter::default() });
        let response = ui.put(rect, field);
        if just_opened {
            response.request_focus();
            self.select_all(ui, &response);
        }
        if response.changed() {
            self.typed.clone_from(&self.text);
            self.chosen = None;
        }
        self.explain(ui, look, &name, &help, &response);
        self.answer(&said, &help, &response, session, queue);
    }

    /// What is typed takes the place of the chord that stands there; an arrow key goes into it instead.
    fn select_all(&self, ui: &Ui, field: &Response) {
        let mut state = TextEditState::load(ui.ctx(), field.id).unwrap_or_default();
        state.cursor.set_char_range(Some(CCursorRange::select_all_str(&self.text)));
        state.store(ui.ctx(), field.id);
    }

    /// Keys of the field: arrows choose a suggestion, Enter and Tab take what is typed, Escape leaves.
    fn listen(&mut self, ui: &Ui) -> Said {
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let (down, up) = (pressed(Key::ArrowDown), pressed(Key::ArrowUp));
        if down || up {
            let suggestions = ChordHelp::of(&self.typed).suggestions;
            self.chosen = match (self.chosen, down) {
                (None, true) => Some(0),
                (Some(n), true) => Some((n + 1).min(suggestions.len().saturating_sub(1))),
                (Some(n), false) => n.checked_sub(1),
                (None, false) => None,
            };
            let chosen = self.chosen.and_then(|n| suggestions.get(n));
            self.text = chosen.map_or_else(|| self.typed.clone(), |suggestion| suggestion.text.clone());
        }
        if pressed(Key::Escape) {
            Said::Leave
        } else if pressed(Key::Enter) {
            Said::Done
        } else if pressed(Key::Tab) {
            Said::Next
        } else {
            Said::Nothing
        }
    }

    /// Beneath the field, where it covers no other bar's head: its name, what it is read as, and what could be meant.
    fn explain(&mut self, ui: &Ui, look: &Look, name: &str, help: &ChordHelp, field: &Response) {
        let below = Area::new(Id::unique("chord help"))
            .order(Order::Foreground)
            .fixed_pos(field.rect.left_bottom() + vec2(0.0, STEP));
        let suggestions = if self.chosen.is_some() {
            ChordHelp::of(&self.typed).suggestions
        } else {
            help.suggestions.clone()
        };
        below.constrain(true).show(ui.ctx(), |ui| {
            let frame = Frame::popup(ui.style()).inner_margin(Margin::same(2 * STEP as i8));
            frame.show(ui, |ui| {
                ui.set_width(280.0);
                let colour = if help.symbol.is_some() || self.text.trim().is_empty() {
                    look.palette.ink
                } else {
                    look.palette.hard
                };
                let label = ui.label(quiet(look, name));
                field.clone().labelled_by(label.id);
                ui.label(RichText::new(&help.words).color(colour));
                for (index, suggestion) in suggestions.iter().enumerate() {
                    let button = Button::new(&suggestion.words)
                        .selected(self.chosen == Some(index))
                        .frame_when_inactive(self.chosen == Some(index));
                    if ui.add(button).clicked() {
                        self.text.clone_from(&suggestion.text);
                        self.typed.clone_from(&suggestion.text);
                        self.chosen = None;
                        field.request_focus();
                    }
                }
                ui.label(quiet(look, "Enter takes it · Tab goes on to the next beat · Esc leaves it"));
            });
        });
    }

    fn answer(&self, said: &Said, help: &ChordHelp, field: &Response, session: &Session, queue: &mut Queue) {
        let Some(at) = self.at else {
            return;
        };
        let is_empty = self.text.trim().is_empty();
        let can_be = is_empty || help.symbol.is_some();
        match said {
            Said::Leave => queue.push(Command::Tune(TuneWish::LeaveChord)),
            Said::Done | Said::Next if can_be => {
                let symbol = if is_empty { None } else { help.symbol.clone() };
                queue.push(Command::Edit(Edit::Tune(Mend::Chord { at, symbol })));
                queue.push(Command::Tune(match (said, next_beat(session, at)) {
                    (Said::Next, Some(next)) => TuneWish::Chord(Some(next)),
                    _ => TuneWish::LeaveChord,
                }));
            }
            Said::Done | Said::Next => field.request_focus(),
            Said::Nothing => {}
        }
    }
}

/// The beat after a time; none at the end of the tune.
fn next_beat(session: &Session, at: Ticks) -> Option<Ticks> {
    let tune = &session.work().tune;
    let bar = &tune.bars()[tune.bar_index(at)];
    let beat = bar.metre.beat().count();
    let next = bar.start + Ticks::new(((at - bar.start).count() / beat + 1) * beat);
    Some(next.min(bar.end())).filter(|next| *next < tune.end())
}

/// Where the field lies over a beat: within the grid.
pub(super) fn field_rect(left: f32, top: f32, right: f32) -> Rect {
    let left = left.min(right - WIDTH);
    Rect::from_min_size(pos2(left, top), vec2(WIDTH, 7.0 * STEP))
}
