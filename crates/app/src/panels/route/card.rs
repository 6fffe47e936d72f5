//! A route as a card: what it costs, where it is hard, what gave way, and to take it.

use eframe::egui::{Button, Frame, Label, Margin, RichText, ScrollArea, Stroke, Ui};

use super::model::{RouteCard, RouteModel};
use crate::command::{Command, Go, RouteWish};
use crate::names;
use crate::panels::widgets::{quiet, weighty};
use crate::panels::{Look, Queue};
use crate::theme::{STEP, medium, strong};

/// Draws a card as wide as it is given.
pub(super) fn show(ui: &mut Ui, look: &Look, model: &RouteModel, card: &RouteCard, queue: &mut Queue) {
    let colour = if card.looked_at { look.palette.melody } else { look.palette.line };
    let frame = Frame::NONE
        .fill(look.palette.ground)
        .stroke(Stroke::new(if card.looked_at { 2.0 } else { 1.0 }, colour))
        .corner_radius(look.sizes.radius)
        .inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.spacing_mut().interact_size.y = 5.0 * STEP;
        ui.spacing_mut().button_padding.y = 1.0;
        cost(ui, look, card);
        fuller(ui, look, card);
        // Above what may run out of sight in a low window.
        if let Some(index) = card.index {
            decide(ui, look, model, (index, card), queue);
        }
        let nothing = card.give_ways.is_empty().then(|| "nothing gave way".to_owned());
        let facts: Vec<String> = card.facts.iter().cloned().chain(nothing).collect();
        ui.label(quiet(look, facts.join(" · ")));
        hardest(ui, look, card, queue);
        gave_way(ui, look, card, queue);
    });
}

fn cost(ui: &mut Ui, look: &Look, card: &RouteCard) {
    ui.horizontal_wrapped(|ui| {
        ui.label(weighty(look.sizes.head, &card.title));
        ui.label(RichText::new(names::points(card.total)).font(strong(look.sizes.chord)));
        let (words, colour) = match card.difference {
            None => ("effort in all".to_owned(), look.palette.quiet),
            Some(0) => ("as much as now".to_owned(), look.palette.quiet),
            Some(more) if more > 0 => (format!("{more} more than now"), look.palette.careful),
            // Less effort for fewer notes is no gain by itself.
            Some(less) if card.costs_notes => (format!("{} less than now", -less), look.palette.quiet),
            Some(less) => (format!("{} less than now", -less), look.palette.easy),
        };
        ui.label(RichText::new(words).size(look.sizes.quiet).color(colour));
    });
}

/// What sounds more or less than now, beside what it costs.
fn fuller(ui: &mut Ui, look: &Look, card: &RouteCard) {
    let colour = if card.costs_notes { look.palette.careful } else { look.palette.ink };
    let tip = "A route is chosen by its effort less what its notes are worth to the ear";
    for words in &card.fuller {
        let words = RichText::new(words).size(look.sizes.quiet).color(colour);
        ui.add(Label::new(words).wrap()).on_hover_text(tip);
    }
}

fn hardest(ui: &mut Ui, look: &Look, card: &RouteCard, queue: &mut Queue) {
    if card.hardest.is_empty() {
        ui.label(quiet(look, "no hard move"));
    }
    for (rank, (at, words)) in card.hardest.iter().enumerate() {
        let shown = if rank == 0 { format!("hardest move: {words}") } else { words.clone() };
        let button = Button::new(shown).frame_when_inactive(false).truncate();
        let response = ui.add(button);
        response.widget_info(|| {
            eframe::egui::WidgetInfo::labeled(
                eframe::egui::Role::Button,
                true,
                format!("{}: hardest move, {words}", card.title),
            )
        });
        if response.on_hover_text("Stand there").clicked() {
            queue.push(Command::Go(Go::To(*at)));
        }
    }
}

fn gave_way(ui: &mut Ui, look: &Look, card: &RouteCard, queue: &mut Queue) {
    let n = card.give_ways.len();
    if n == 0 {
        return;
    }
    let words = if n == 1 { "1 note gave way".to_owned() } else { format!("{n} notes gave way") };
    let menu = ui.menu_button(RichText::new(&words).color(look.palette.careful), |ui| {
        ScrollArea::vertical().max_height(280.0).show(ui, |ui| {
            for (at, why) in &card.give_ways {
                if ui.add(Button::new(why).frame_when_inactive(false)).clicked() {
                    queue.push(Command::Go(Go::To(*at)));
                    ui.close();
                }
            }
        });
    });
    menu.response.widget_info(|| {
        let name = format!("{}: {words}", card.title);
        eframe::egui::WidgetInfo::labeled(eframe::egui::Role::Button, true, name)
    });
}

fn decide(
    ui: &mut Ui,
    look: &Look,
    model: &RouteModel,
    (index, card): (usize, &RouteCard),
    queue: &mut Queue,
) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().button_padding.y = STEP;
        let name = format!("Take route {}", index + 1);
        let words = RichText::new(name).color(look.palette.on_mark).font(medium(look.sizes.body));
        let take = Button::new(words).fill(look.palette.melody);
        let tip = format!("Locks its grips in {}; undo brings the old ones back", model.taken_for);
        if ui.add_enabled(model.is_current, take).on_hover_text(tip).clicked() {
            queue.push(Command::Route(RouteWish::Take(index)));
        }
        let name = format!("See route {}", index + 1);
        let see = Button::new(name).selected(card.looked_at);
        if ui.add(see).on_hover_text("Shows it on the neck and in the plot").clicked() {
            queue.push(Command::Route(RouteWish::LookAt(index)));
        }
    });
}
