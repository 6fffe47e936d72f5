//! Draws the place of routes: what to look for, the routes side by side, the effort of every moment below.

use std::ops::Range;

use eframe::egui::{Align, Button, Layout, ProgressBar, RichText, ScrollArea, Ui};
use handspan_core::arrangement::Edit;
use handspan_core::plan::Aim;
use handspan_core::time::Ticks;

use super::card;
use super::model::RouteModel;
use super::plot::EffortPlot;
use crate::command::{Command, Go, LieWish, LockWish, RouteWish};
use crate::panels::cached::Cached;
use crate::panels::lies::LiesPage;
use crate::panels::widgets::{command_button, command_button_named, explained, quiet, weighty};
use crate::panels::{Look, Queue};
use crate::session::{Arranged, Comparing, Session};
use crate::theme::STEP;

/// The plot's least share of what room there is, and how high it is at least; it takes what the cards leave.
const PLOT: f32 = 0.34;
const PLOT_HEIGHT: f32 = 24.0 * STEP;
/// A card is no wider, so that its lines are short.
const CARD: f32 = 120.0 * STEP;
/// From this width on, what can be done with routes stands in the line of the head, and the cards have more room.
const BESIDE: f32 = 290.0 * STEP;
/// From this width on, what easiest means stands in the line of the head.
const TOGETHER: f32 = 225.0 * STEP;
/// Room for the line over the plot.
const LINE: f32 = 6.0 * STEP;

/// What the place remembers from frame to frame.
#[derive(Debug, Default)]
pub struct RoutePlace {
    model: Cached<Basis, Option<RouteModel>>,
    plot: EffortPlot,
    lies: LiesPage,
}

/// What the model is made from: the work, the routes found, the one looked at, the passage.
type Basis = (Arranged, u64, Option<usize>, Option<Range<Ticks>>);

fn basis(session: &Session) -> Basis {
    let routes = session.routes();
    (session.arranged(), routes.revision(), routes.looked_at(), session.passage().cloned())
}

impl RoutePlace {
    /// Draws the place in what room there is.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        let model = self.model.of(basis(session), || RouteModel::of(session)).as_ref();
        if session.lies().are_shown() {
            heading(ui, look, session, model, queue, |_, _| {});
            self.lies.show(ui, look, session, queue);
            return;
        }
        let Some(model) = model else {
            ui.horizontal(|ui| tabs(ui, look, session, None, queue));
            ui.label(quiet(look, "The routes are compared here once the tune is arranged."));
            return;
        };
        top(ui, look, session, model, queue);
        locks(ui, look, session, model, queue);
        ui.add_space(STEP);
        let room = ui.available_height() - LINE;
        let plot = (room * PLOT).max(PLOT_HEIGHT);
        let area =
            ScrollArea::vertical().id_salt("routes").auto_shrink([false, true]).max_height(room - plot);
        area.show(ui, |ui| cards(ui, look, session, model, queue));
        ui.label(quiet(
            look,
            format!(
                "Effort of every moment, by bars. Click to stand there, or Tab to it and press ← → Enter.{}",
                key(model)
            ),
        ));
        self.plot.show(ui, look, (session, model), queue);
    }
}

/// The routes side by side; until some are compared, what could be asked stands beside the one there is.
fn cards(ui: &mut Ui, look: &Look, session: &Session, model: &RouteModel, queue: &mut Queue) {
    let count = if model.is_compared { model.cards.len() } else { 2 };
    ui.set_max_width(ui.available_width().min(count as f32 * CARD));
    ui.columns(count, |columns| {
        for (column, card) in columns.iter_mut().zip(&model.cards) {
            card::show(column, look, model, card, queue);
        }
        if let ([_, beside, ..], false) = (columns, model.is_compared) {
            beside.with_layout(Layout::top_down(Align::Min), |ui| invite(ui, look, session, model, queue));
        }
    });
}

/// What the outlines in the plot are.
fn key(model: &RouteModel) -> String {
    model.curves.get(1).map_or_else(String::new, |curve| {
        format!(" Bars: as it is now; outlines: {}, where it differs.", curve.name)
    })
}

fn top(ui: &mut Ui, look: &Look, session: &Session, model: &RouteModel, queue: &mut Queue) {
    let comparing = session.routes().comparing().is_some();
    let beside = model.is_compared && !comparing && model.is_current && model.few.is_none();
    let beside = beside && ui.available_width() >= BESIDE;
    heading(ui, look, session, Some(model), queue, |ui, queue| {
        if beside {
            compared(ui, look, session, model, queue);
        }
    });
    if !beside && (model.is_compared || comparing) {
        ui.horizontal_wrapped(|ui| compared(ui, look, session, model, queue));
    }
}

/// The pages of the place, what stands beside them, and what easiest means: below them where there is no room beside.
fn heading(
    ui: &mut Ui,
    look: &Look,
    session: &Session,
    model: Option<&RouteModel>,
    queue: &mut Queue,
    beside: impl FnOnce(&mut Ui, &mut Queue),
) {
    let is_wide = ui.available_width() >= TOGETHER;
    let at_right = Layout::right_to_left(Align::Center);
    ui.horizontal(|ui| {
        tabs(ui, look, session, model, queue);
        beside(ui, queue);
        if is_wide {
            ui.with_layout(at_right, |ui| aims(ui, look, session, queue));
        }
    });
    if !is_wide {
        ui.horizontal(|ui| ui.with_layout(at_right, |ui| aims(ui, look, session, queue)));
    }
}

/// The two pages of the place.
fn tabs(ui: &mut Ui, look: &Look, session: &Session, model: Option<&RouteModel>, queue: &mut Queue) {
    let are_shown = session.lies().are_shown();
    let routes = model.map_or_else(|| "Routes".to_owned(), |model| format!("Routes through {}", model.scope));
    for (show, name) in [(false, routes.as_str()), (true, "Keys, tunings, capos")] {
        let wish = Command::Lie(LieWish::Show(show));
        let tab = Button::new(weighty(look.sizes.head, name)).selected(show == are_shown);
        if explained(ui.add(tab.frame_when_inactive(show == are_shown)), &wish).clicked() {
            queue.push(wish);
        }
    }
}

/// What easiest means, from the right to the left.
fn aims(ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
    let now = session.work().plan.aim;
    let aims = [
        (Aim::Gentlest, "gentlest hardest move", "The hardest move is as easy as can be, then the sum"),
        (Aim::LeastTotal, "least effort in all", "The sum of all grips and moves is as small as can be"),
    ];
    for (aim, name, tip) in aims {
        if ui.add(Button::new(name).selected(aim == now)).on_hover_text(tip).clicked() {
            queue.push(Command::Edit(Edit::Aim(aim)));
        }
    }
    ui.label(quiet(look, "Easiest means"));
}

/// What can be done with the routes that were looked for, and how far the search is.
fn compared(ui: &mut Ui, look: &Look, session: &Session, model: &RouteModel, queue: &mut Queue) {
    if let Some(comparing) = session.routes().comparing() {
        follow(ui, look, comparing, queue);
        return;
    }
    command_button(ui, session, &Command::Route(RouteWish::Compare), queue);
    if ui.button("Put them away").clicked() {
        queue.push(Command::Route(RouteWish::PutAway));
    }
    if !model.is_current {
        ui.label(
            RichText::new("Found before the last change; compare again to take one")
                .color(look.palette.careful),
        );
    } else if let Some(few) = model.few {
        ui.label(quiet(look, few));
    }
}

/// How far the search for different routes is, and to stop it.
fn follow(ui: &mut Ui, look: &Look, comparing: Comparing, queue: &mut Queue) {
    let bar = ProgressBar::new(comparing.progress.unwrap_or(0.0));
    ui.add(bar.desired_width(40.0 * STEP).desired_height(2.0 * STEP));
    ui.label(quiet(
        look,
        if comparing.first_is_there {
            "The easiest is there; looking for others that are really different"
        } else {
            "finding the easiest"
        },
    ));
    if ui.button("Stop comparing").clicked() {
        queue.push(Command::Route(RouteWish::Stop));
    }
}

/// What the place is for, until routes are compared.
fn invite(ui: &mut Ui, look: &Look, session: &Session, model: &RouteModel, queue: &mut Queue) {
    ui.label(weighty(look.sizes.head, "Is there an easier way, or another one?"));
    ui.add_space(STEP);
    let passage = session.passage().is_some();
    let easiest = if passage { RouteWish::Passage } else { RouteWish::Tune };
    let name = format!("Find the easiest route through {}", model.scope);
    command_button_named(ui, session, &Command::Route(easiest), &name, queue);
    let compare = Command::Route(RouteWish::Compare);
    let name = format!("Compare different routes through {}", model.scope);
    if explained(ui.add_enabled(session.can(&compare), Button::new(name)), &compare).clicked() {
        queue.push(compare);
    }
    ui.add_space(STEP);
    if !passage {
        ui.label(quiet(
            look,
            "For a hard passage alone, drag over its bars in the tune below, or press Shift+→.",
        ));
    }
}

/// What is locked in the scope: no route may change it.
fn locks(ui: &mut Ui, look: &Look, session: &Session, model: &RouteModel, queue: &mut Queue) {
    if model.locks.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let n = model.locks.len();
        let words = if n == 1 {
            "1 lock is kept by every route".to_owned()
        } else {
            format!("{n} locks are kept by every route")
        };
        ui.menu_button(words, |ui| {
            ScrollArea::vertical().max_height(280.0).show(ui, |ui| {
                for (at, words) in &model.locks {
                    if ui.add(Button::new(words).frame_when_inactive(false)).clicked() {
                        queue.push(Command::Go(Go::To(*at)));
                        ui.close();
                    }
                }
            });
        });
        if session.passage().is_some() {
            command_button(ui, session, &Command::Lock(LockWish::ReleasePassage), queue);
        } else {
            ui.label(quiet(look, "to release some, select their bars"));
        }
    });
}
