//! The pages beside the grid: the note, the bar, the tune.

use eframe::egui::{Button, DragValue, Grid, RichText, ScrollArea, TextEdit, Ui};
use handspan_core::arrangement::Edit;
use handspan_core::arrangement::edit::bars;
use handspan_core::time::Tempo;
use handspan_core::tune::{Line, Mend};
use handspan_formats::Severity;

use super::key_offers::KeyOffer;
use super::offers;
use crate::command::{Caret, Command, FileWish, LieWish, Page, Rise, TuneWish, entry_of, key_name};
use crate::panels::widgets::{command_button, explained, head, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::session::value::{Base, length_name};
use crate::theme::STEP;

/// How wide a row of buttons is that have their keys beside their names.
const KEYED: f32 = 93.0 * STEP;

/// What is being typed beside the grid, until it is taken.
#[derive(Debug, Default)]
pub(super) struct Side {
    title: Typed,
    composer: Typed,
    section: Typed,
}

/// A text that is typed into a field; what it stands for goes on changing elsewhere.
#[derive(Debug, Default)]
struct Typed {
    text: String,
    of: Option<String>,
}

impl Typed {
    /// Draws the field; gives the text when it is taken by Enter or by going elsewhere.
    fn show(&mut self, ui: &mut Ui, look: &Look, name: &str, now: &str) -> Option<String> {
        if self.of.as_deref() != Some(now) {
            *self = Self { text: now.to_owned(), of: Some(now.to_owned()) };
        }
        let label = ui.label(quiet(look, name));
        let field = TextEdit::singleline(&mut self.text).desired_width(f32::INFINITY);
        let response = ui.add(field).labelled_by(label.id);
        (response.lost_focus() && self.text != now).then(|| self.text.clone())
    }
}

impl Side {
    pub(super) fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        ui.horizontal(|ui| {
            for page in Page::ALL {
                tab(ui, session, page, queue);
            }
        });
        ui.add_space(2.0 * STEP);
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| match session.writing().page() {
            Page::Note => note(ui, look, session, queue),
            Page::Bar => self.bar(ui, look, session, queue),
            Page::Tune => self.tune(ui, look, session, queue),
        });
    }

    fn bar(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let tune = &session.work().tune;
        let index = tune.bar_index(session.writing().caret());
        let bar = &tune.bars()[index];
        ui.label(weighty(look.sizes.head, format!("Bar {}", bar.number)));
        ui.add_space(STEP);
        let section = bar.section.clone().unwrap_or_default();
        if let Some(name) = self.section.show(ui, look, "section that begins here", &section) {
            mend(queue, Mend::Section { bar: index, name: (!name.trim().is_empty()).then_some(name) });
        }
        ui.add_space(2.0 * STEP);
        head(ui, look, "from here until it changes");
        Grid::new("bar").num_columns(2).spacing([4.0 * STEP, 2.0 * STEP]).show(ui, |ui| {
            if let Some(key) = offers::key(ui, look, "key of the bar", bar.key) {
                mend(queue, Mend::Key { bar: index, key });
            }
            ui.end_row();
            if let Some(metre) = offers::metre(ui, look, "metre of the bar", bar.metre) {
                mend(queue, Mend::Metre { bar: index, metre });
            }
            ui.end_row();
            tempo(ui, look, session, index, queue);
            ui.end_row();
        });
        ui.add_space(3.0 * STEP);
        ui.horizontal_wrapped(|ui| {
            command_button(ui, session, &Command::Tune(TuneWish::AddBar), queue);
            command_button(ui, session, &Command::Tune(TuneWish::RemoveBar), queue);
        });
        ui.horizontal_wrapped(|ui| {
            if ui.button("Insert a bar behind this one").clicked() {
                mend(queue, Mend::AddBars { after: index, count: 1 });
            }
            let can = tune.bars().len() > 1;
            if ui.add_enabled(can, Button::new("Take this bar away")).clicked() {
                mend(queue, Mend::RemoveBars(index..index + 1));
            }
        });
    }

    fn tune(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let tune = &session.work().tune;
        remarks(ui, look, session, queue);
        parts(ui, look, session, queue);
        if let Some(title) = self.title.show(ui, look, "title", tune.title()) {
            mend(queue, Mend::Title(title));
        }
        if let Some(composer) = self.composer.show(ui, look, "composer", tune.composer()) {
            mend(queue, Mend::Composer(composer));
        }
        ui.add_space(3.0 * STEP);
        keys(ui, look, session, queue);
    }
}

fn mend(queue: &mut Queue, mend: Mend) {
    queue.push(Command::Edit(Edit::Tune(mend)));
}

fn tab(ui: &mut Ui, session: &Session, page: Page, queue: &mut Queue) {
    let command = Command::Tune(TuneWish::Show(page));
    let name = entry_of(&command).map_or("", |entry| entry.name);
    let button = Button::new(name).selected(session.writing().page() == page);
    let response = explained(ui.add(button), &command);
    if response.clicked() {
        queue.push(command);
    }
}

/// Buttons side by side, so many in a row, each with its key beside its name.
fn keyed(
    ui: &mut Ui,
    (id, columns): (&str, usize),
    wishes: &[TuneWish],
    is_on: impl Fn(TuneWish) -> bool,
    queue: &mut Queue,
) {
    let width = (KEYED - (columns - 1) as f32 * STEP) / columns as f32;
    Grid::new(id).num_columns(columns).spacing([STEP, STEP]).show(ui, |ui| {
        for row in wishes.chunks(columns) {
            for wish in row {
                keyed_button(ui, &Command::Tune(*wish), is_on(*wish), width, queue);
            }
            ui.end_row();
        }
    });
}

fn keyed_button(ui: &mut Ui, command: &Command, selected: bool, width: f32, queue: &mut Queue) {
    let Some(entry) = entry_of(command) else {
        return;
    };
    let key = entry.keys.first().map(|key| key_name(*key)).unwrap_or_default();
    let button = Button::new(entry.name)
        .shortcut_text(RichText::new(key).weak())
        .selected(selected)
        .min_size(eframe::egui::vec2(width, 0.0));
    if explained(ui.add(button), command).clicked() {
        queue.push(command.clone());
    }
}

/// How long the next note is, and the note that a change concerns.
fn note(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let value = session.writing().value();
    voice(ui, session, queue);
    head(ui, look, &format!("the next note: {}", value.name()));
    let lengths = Base::ALL.map(TuneWish::Length);
    let all = [&lengths[..], &[TuneWish::Dot, TuneWish::Triplet, TuneWish::Rest][..]].concat();
    let is_on = |wish| match wish {
        TuneWish::Length(base) => base == value.base,
        TuneWish::Dot => value.dotted,
        TuneWish::Triplet => value.triplet,
        _ => false,
    };
    keyed(ui, ("lengths", 3), &all, is_on, queue);
    ui.add_space(2.0 * STEP);
    let tune = &session.work().tune;
    match session.note_in_hand() {
        None => {
            head(ui, look, &format!("{}: a rest", tune.bar_beat(session.writing().caret())));
            keyed(ui, ("rest", 2), &[TuneWish::Chord(None), TuneWish::Tie], |_| false, queue);
        }
        Some(note) => {
            let place = tune.bar_beat(note.at);
            head(ui, look, &place.to_string());
            ui.horizontal(|ui| {
                let name = RichText::new(format!("{:#}", note.written)).color(look.palette.melody);
                ui.label(name.font(crate::theme::strong(look.sizes.chord)));
                ui.label(length_name(note.length));
            });
            let wishes = [
                TuneWish::Raise(Rise::Step(1)),
                TuneWish::Raise(Rise::Step(-1)),
                TuneWish::Raise(Rise::Semitone(1)),
                TuneWish::Raise(Rise::Semitone(-1)),
                TuneWish::Longer,
                TuneWish::Shorter,
                TuneWish::Tie,
                TuneWish::Delete,
                TuneWish::Chord(None),
            ];
            keyed(ui, ("note", 2), &wishes, |_| false, queue);
        }
    }
    lines(ui, look, session, queue);
}

/// What is being written: the melody, or a line beside it.
fn voice(ui: &mut Ui, session: &Session, queue: &mut Queue) {
    if session.is_written_out() {
        return;
    }
    let voices = [("Melody", None), ("Bass line", Some(Line::Bass)), ("Hook", Some(Line::Hook))];
    ui.horizontal(|ui| {
        for (name, voice) in voices {
            let command = Command::Tune(TuneWish::Voice(voice));
            let button = Button::new(name).selected(session.writing().voice() == voice);
            if explained(ui.add(button), &command).clicked() {
                queue.push(command);
            }
        }
    });
    ui.add_space(2.0 * STEP);
}

/// What is written as melody can be marked as a line, in the passage or at the caret.
fn lines(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    if session.is_written_out() {
        return;
    }
    ui.add_space(2.0 * STEP);
    let tune = session.tune();
    let scope =
        session.passage().map_or_else(|| "the note at the caret".to_owned(), |passage| bars(tune, passage));
    head(ui, look, &format!("bass line and hooks: {scope}"));
    keyed(ui, ("mark", 2), &Line::ALL.map(TuneWish::Mark), |_| false, queue);
    if !session.work().tune.lines().is_empty() {
        keyed(ui, ("unmark", 2), &Line::ALL.map(TuneWish::Unmark), |_| false, queue);
    }
}

fn tempo(ui: &mut Ui, look: &Look, session: &Session, index: usize, queue: &mut Queue) {
    let tune = &session.work().tune;
    let label = ui.label(quiet(look, "tempo, quarters a minute"));
    let mut tempo = tune.tempo_at(tune.bars()[index].start).quarters_a_minute();
    let number = DragValue::new(&mut tempo).range(Tempo::MIN..=Tempo::MAX);
    let response = ui.add(number).labelled_by(label.id);
    if response.changed() {
        let tempo = Tempo::try_new(tempo);
        queue.push(Command::EditInGesture(Edit::Tune(Mend::Tempo { bar: index, tempo })));
    }
    if response.drag_stopped() || response.lost_focus() {
        queue.push(Command::CloseGesture);
    }
}

/// What was said about the file, each with its bar.
fn remarks(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let Some(import) = session.import().filter(|import| !import.remarks().is_empty()) else {
        return;
    };
    let tune = &session.work().tune;
    head(ui, look, &format!("not kept as it is in {}", import.file()));
    for (index, remark) in import.remarks().iter().enumerate() {
        let diagnostic = &remark.diagnostic;
        let colour = match diagnostic.severity {
            _ if remark.is_settled => look.palette.quiet,
            Severity::Fault => look.palette.hard,
            Severity::Loss => look.palette.careful,
            Severity::Note => look.palette.quiet,
        };
        ui.horizontal(|ui| {
            match remark.at(tune) {
                Some(at) => {
                    let go = Button::new(
                        RichText::new(format!("{}, remark {}", diagnostic.place, index + 1)).color(colour),
                    );
                    if ui.add(go).on_hover_text("Goes there").clicked() {
                        queue.push(Command::Tune(TuneWish::Caret(Caret::To(at))));
                    }
                }
                None => {
                    ui.label(RichText::new(diagnostic.place.to_string()).color(colour));
                }
            }
            let word = if remark.is_settled { "Seen to" } else { "See to it" };
            let button = Button::new(format!("{word} ({})", index + 1)).selected(remark.is_settled);
            if ui.add(button).on_hover_text("Ticks the remark off, or not").clicked() {
                queue.push(Command::Tune(TuneWish::Settle(index)));
            }
        });
        let hint = diagnostic.hint.as_ref().map_or_else(String::new, |hint| format!("; {hint}"));
        let words = RichText::new(format!("{}{hint}", diagnostic.message)).size(look.sizes.quiet);
        ui.label(if remark.is_settled { words.color(look.palette.quiet) } else { words });
        ui.add_space(STEP);
    }
    ui.add_space(2.0 * STEP);
}

/// The parts of a score of several, each with what it is read as.
fn parts(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let Some(import) = session.import().filter(|import| import.parts().len() > 1) else { return };
    head(ui, look, "parts of the score");
    Grid::new("parts").num_columns(2).spacing([4.0 * STEP, 2.0 * STEP]).show(ui, |ui| {
        for (index, (part, now)) in import.parts().enumerate() {
            let name = part.name.clone().unwrap_or_else(|| format!("Part {}", index + 1));
            if let Some(role) = offers::role(ui, &name, (index, part.has_notes), now) {
                queue.push(Command::File(FileWish::ReadParts(import.choosing(index, role))));
            }
            ui.end_row();
        }
    });
    ui.label(quiet(look, "A choice reads the file anew; guitar, hand and key stay. Chord symbols come from whichever part has them."));
    ui.add_space(3.0 * STEP);
}

/// Octaves and keys, each with what it does to the range.
fn keys(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let all = KeyOffer::all(session);
    if all.is_empty() {
        return;
    }
    head(ui, look, "where it lies on the neck");
    for offer in all {
        let name = RichText::new(&offer.name);
        let name = if offer.is_playable { name } else { name.color(look.palette.quiet) };
        if ui.add(Button::new(name).selected(offer.is_now)).clicked() {
            queue.push(Command::Edit(offer.edit));
        }
        ui.label(quiet(look, offer.words));
        ui.add_space(STEP);
    }
    command_button(ui, session, &Command::Lie(LieWish::Show(true)), queue);
}
