//! What the list of grips is asked for: order, filters, the melody's string, the bass.

use std::ops::RangeInclusive;

use eframe::egui::{Button, RichText, Ui};
use handspan_core::grip::{BassChoice, Filter, Order};
use handspan_core::neck::{Fret, StringIndex};

use super::model::VoicingsModel;
use crate::command::{Browse, Command, LockWish, OwnWish};
use crate::panels::widgets::{choices, command_button, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// Draws the two lines over the list.
pub(super) fn show(ui: &mut Ui, look: &Look, session: &Session, model: &VoicingsModel, queue: &mut Queue) {
    ui.horizontal_wrapped(|ui| {
        ui.label(weighty(look.sizes.head, "Grips for this moment"));
        ui.label(quiet(look, model.count()));
        ui.add_space(2.0 * STEP);
        melody(ui, model, queue);
        bass(ui, model, queue);
        command_button(ui, session, &Command::Own(OwnWish::Toggle), queue);
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = STEP;
        order(ui, model, queue);
        filters(ui, model, queue);
        if !model.filter.is_open() && ui.button(RichText::new("Show all").strong()).clicked() {
            queue.push(Command::Browse(Browse::Everything));
        }
    });
}

fn melody(ui: &mut Ui, model: &VoicingsModel, queue: &mut Queue) {
    if model.melody.is_empty() {
        return;
    }
    let locked = model.melody.iter().find(|choice| choice.locked);
    let name = locked
        .map_or_else(|| "melody on any string".to_owned(), |c| format!("melody on string {}", c.string));
    ui.menu_button(name, |ui| {
        for choice in &model.melody {
            let words = if choice.locked {
                format!("Release it from {}", choice.name)
            } else {
                format!("On {}", choice.name)
            };
            if ui.add(Button::new(words).selected(choice.locked)).clicked() {
                queue.push(Command::Lock(LockWish::MelodyOn(choice.string)));
                ui.close();
            }
        }
    })
    .response
    .on_hover_text("Locks the melody note to a string; the list follows");
}

fn bass(ui: &mut Ui, model: &VoicingsModel, queue: &mut Queue) {
    if model.basses.is_empty() {
        return;
    }
    let name =
        model.bass.as_ref().map_or_else(|| "bass as written".to_owned(), |bass| format!("bass {bass}"));
    ui.menu_button(name, |ui| {
        let mut offer = |ui: &mut Ui, name: &str, bass: Option<BassChoice>| {
            if ui.button(name).clicked() {
                queue.push(Command::Lock(LockWish::BassTo(bass)));
                ui.close();
            }
        };
        offer(ui, "As the chord symbol says", None);
        offer(ui, "Any chord tone", Some(BassChoice::Free));
        let tones = model.basses.iter().filter(|row| row.chord_tone);
        for row in tones {
            offer(ui, &row.name, Some(row.bass));
        }
        ui.menu_button("Another note", |ui| {
            for row in model.basses.iter().filter(|row| !row.chord_tone) {
                offer(ui, &row.name, Some(row.bass));
            }
        });
    })
    .response
    .on_hover_text("Chooses what is lowest; the list follows");
}

fn order(ui: &mut Ui, model: &VoicingsModel, queue: &mut Queue) {
    let name = match model.order {
        Order::Nearest(fret) => format!("nearest fret {fret} first"),
        order => format!("{} first", order.name()),
    };
    ui.menu_button(RichText::new(name).strong(), |ui| {
        for order in Order::ALL {
            if ui.add(Button::new(order.name()).selected(model.order == order)).clicked() {
                queue.push(Command::Browse(Browse::By(order)));
                ui.close();
            }
        }
        ui.menu_button("nearest a position", |ui| {
            if let Some(fret) = fret_menu(ui, model, "nearest fret") {
                queue.push(Command::Browse(Browse::By(Order::Nearest(fret))));
            }
        });
    })
    .response
    .on_hover_text("How the grips are ranked");
}

/// A menu of frets; gives the one that is chosen.
fn fret_menu(ui: &mut Ui, model: &VoicingsModel, what: &str) -> Option<Fret> {
    let mut chosen = None;
    for number in 1..=model.last_fret.min(12) {
        if ui.button(format!("{what} {number}")).clicked() {
            chosen = Some(Fret::new(number));
            ui.close();
        }
    }
    chosen
}

fn filters(ui: &mut Ui, model: &VoicingsModel, queue: &mut Queue) {
    let mut filter = model.filter.clone();
    notes(ui, &mut filter);
    frets(ui, model, &mut filter);
    position(ui, &mut filter);
    strings(ui, model, &mut filter);
    toggle(ui, &mut filter.no_barre, "no barre");
    toggle(ui, &mut filter.guide_tones, "third and seventh in");
    toggle(ui, &mut filter.open_bass, "open bass");
    if filter != model.filter {
        queue.push(Command::Browse(Browse::Only(filter)));
    }
}

fn toggle(ui: &mut Ui, on: &mut bool, name: &str) {
    if ui.add(Button::new(name).selected(*on)).clicked() {
        *on = !*on;
    }
}

fn notes(ui: &mut Ui, filter: &mut Filter) {
    let now = filter
        .notes
        .as_ref()
        .map_or_else(|| "notes: any".to_owned(), |notes| format!("{} notes", notes.start()));
    let button = Button::new(now).selected(filter.notes.is_some());
    eframe::egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        choose(ui, &mut filter.notes, "any number of notes", None);
        for count in 1..=6 {
            let name = if count == 1 { "1 note".to_owned() } else { format!("{count} notes") };
            choose(ui, &mut filter.notes, &name, Some(count..=count));
        }
    });
}

fn frets(ui: &mut Ui, model: &VoicingsModel, filter: &mut Filter) {
    let now =
        filter.highest_fret.map_or_else(|| "frets: any".to_owned(), |fret| format!("up to fret {fret}"));
    let button = Button::new(now).selected(filter.highest_fret.is_some());
    eframe::egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        choose(ui, &mut filter.highest_fret, "any fret", None);
        for number in [3, 4, 5, 7, 9, 12].into_iter().filter(|n| *n <= model.last_fret) {
            choose(ui, &mut filter.highest_fret, &format!("up to fret {number}"), Some(Fret::new(number)));
        }
    });
}

fn position(ui: &mut Ui, filter: &mut Filter) {
    let name = |range: &RangeInclusive<Fret>| format!("position {} to {}", range.start(), range.end());
    let now = filter.position.as_ref().map_or_else(|| "position: any".to_owned(), name);
    let button = Button::new(now).selected(filter.position.is_some());
    eframe::egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        choose(ui, &mut filter.position, "any position", None);
        for (from, to) in [(1, 2), (1, 4), (3, 5), (5, 7), (7, 9), (9, 12)] {
            let range = Fret::new(from)..=Fret::new(to);
            choose(ui, &mut filter.position, &name(&range), Some(range.clone()));
        }
    });
}

fn choose<T: PartialEq>(ui: &mut Ui, now: &mut Option<T>, name: &str, choice: Option<T>) {
    if ui.add(Button::new(name).selected(*now == choice)).clicked() {
        *now = choice;
        ui.close();
    }
}

fn strings(ui: &mut Ui, model: &VoicingsModel, filter: &mut Filter) {
    let all = || StringIndex::all(model.strings);
    let left_out = all().filter(|string| !filter.strings.contains(*string)).map(|s| s.to_string());
    let left_out: Vec<String> = left_out.collect();
    let now = if left_out.is_empty() {
        "strings: all".to_owned()
    } else {
        format!("without string {}", left_out.join(", "))
    };
    let button = Button::new(now).selected(!left_out.is_empty());
    choices(button).ui(ui, |ui| {
        for string in all() {
            let mut may_sound = filter.strings.contains(string);
            if ui.checkbox(&mut may_sound, format!("string {string} may sound")).changed() {
                if may_sound {
                    filter.strings.insert(string);
                } else {
                    filter.strings.remove(string);
                }
            }
        }
    });
}
