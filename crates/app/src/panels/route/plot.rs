//! Effort per moment as a plot: a click stands there, and with the keys one goes from moment to moment.

use eframe::egui::{
    Color32, EventFilter, Key, Modifiers, Rangef, Response, Role as AccessRole, Sense, Stroke, StrokeKind,
    Ui, Vec2b, WidgetInfo, vec2,
};
use egui_plot::{AxisHints, Bar, BarChart, GridMark, Plot, Span, VLine};
use handspan_core::time::Ticks;

use super::model::{Curve, RouteModel, Step};
use crate::command::{Command, Go};
use crate::panels::{Look, Queue};
use crate::session::Session;
use crate::theme::STEP;

/// The plot is no higher.
const HIGHEST: f32 = 150.0 * STEP;

/// The moments that keys have chosen while the plot has the focus.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Chosen {
    /// Where a passage begins that is widened from here.
    from: usize,
    at: usize,
}

/// What the plot remembers from frame to frame.
#[derive(Debug, Default)]
pub(super) struct EffortPlot {
    chosen: Option<Chosen>,
}

impl EffortPlot {
    /// Draws the plot in what room there is.
    pub(super) fn show(
        &mut self,
        ui: &mut Ui,
        look: &Look,
        (session, model): (&Session, &RouteModel),
        queue: &mut Queue,
    ) {
        let steps = model.curves.first().map_or(&[][..], |curve| &curve.steps);
        let here = session.moment_index();
        let (response, pointed_at) = draw(ui, look, (session, model), self.chosen.map(|chosen| chosen.at));
        if response.has_focus() {
            let chosen = self.chosen.unwrap_or(Chosen { from: here, at: here });
            self.chosen = Some(listen(ui, &response, (session, steps), chosen, queue));
            let rim = Stroke::new(2.0, look.palette.melody);
            ui.painter().rect_stroke(response.rect, look.sizes.radius, rim, StrokeKind::Inside);
        } else {
            self.chosen = None;
        }
        let told = self.chosen.map_or(here, |chosen| chosen.at);
        response.widget_info(|| {
            let words = steps.get(told).map_or_else(String::new, |step| step.words.clone());
            let name = "Effort of every moment: arrows choose one, Enter stands there";
            WidgetInfo {
                current_text_value: Some(words),
                ..WidgetInfo::labeled(AccessRole::Slider, true, name)
            }
        });
        let Some(at) = pointed_at else { return };
        if response.clicked() {
            queue.push(Command::Go(Go::To(RouteModel::time(at))));
        }
        if let Some(step) = steps.iter().find(|step| step.from <= at && at < step.to) {
            response.on_hover_text_at_pointer(&step.words);
        }
    }
}

/// Keys on the plot: arrows choose a moment, with Shift they widen the passage, Enter stands there.
fn listen(
    ui: &Ui,
    response: &Response,
    (session, steps): (&Session, &[Step]),
    chosen: Chosen,
    queue: &mut Queue,
) -> Chosen {
    let arrows = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    let last = steps.len().saturating_sub(1);
    let mut at = chosen.at.min(last);
    let mut widened = false;
    for (modifiers, key, to) in [
        (Modifiers::SHIFT, Key::ArrowRight, (at + 1).min(last)),
        (Modifiers::SHIFT, Key::ArrowLeft, at.saturating_sub(1)),
        (Modifiers::NONE, Key::ArrowRight, (at + 1).min(last)),
        (Modifiers::NONE, Key::ArrowLeft, at.saturating_sub(1)),
        (Modifiers::NONE, Key::Home, 0),
        (Modifiers::NONE, Key::End, last),
    ] {
        if pressed(modifiers, key) {
            at = to;
            widened |= modifiers.shift;
        }
    }
    let time = |index: usize| steps.get(index).map_or(Ticks::ZERO, |step| step.at);
    if widened {
        let (first, last) = (time(chosen.from.min(at)), time(chosen.from.max(at)));
        queue.push(Command::Select(Some(session.bar(first).start..session.bar(last).end)));
    }
    if pressed(Modifiers::NONE, Key::Enter) {
        queue.push(Command::Go(Go::To(time(at))));
    }
    Chosen { from: if widened || at == chosen.at { chosen.from } else { at }, at }
}

/// Round efforts up to the highest of all, three of them at the most above nothing.
fn efforts(highest: f64) -> Vec<GridMark> {
    let rounds = (0..9).flat_map(|zeros| [1.0, 2.0, 5.0].map(|round| round * 10_f64.powi(zeros)));
    let step_size = rounds.into_iter().find(|step| highest < 4.0 * step).unwrap_or(highest);
    let marks = (0..4).map(|number| GridMark { value: f64::from(number) * step_size, step_size });
    marks.filter(|mark| mark.value <= highest).collect()
}

/// Draws it; gives what can be clicked, and where it is pointed at, in quarter notes.
fn draw(
    ui: &mut Ui,
    look: &Look,
    (session, model): (&Session, &RouteModel),
    chosen: Option<usize>,
) -> (Response, Option<f64>) {
    let palette = look.palette;
    let bars = model.bars.as_slice();
    let bar_number = move |mark: GridMark, _: &std::ops::RangeInclusive<f64>| {
        let index = bars.partition_point(|(at, _)| *at < mark.value - 1e-6);
        bars.get(index).map_or_else(String::new, |(_, number)| number.clone())
    };
    let every = bars.len().div_ceil(24).max(1);
    let at_bars = move |_| {
        let of_bar = |(at, _): &(f64, String)| GridMark { value: *at, step_size: 4.0 * every as f64 };
        bars.iter().step_by(every).map(of_bar).collect()
    };
    let plot = Plot::new("effort of every moment")
        .height(ui.available_height().clamp(80.0, HIGHEST))
        .allow_zoom(false)
        .allow_drag(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .sense(Sense::click())
        .show_background(false)
        .show_grid(Vec2b::new(true, false))
        .grid_color(palette.line)
        .grid_spacing(Rangef::new(8.0, 60.0))
        .clamp_grid(true)
        .include_y(0.0)
        .set_margin_fraction(vec2(0.01, 0.08))
        .x_grid_spacer(at_bars)
        .custom_x_axes(vec![AxisHints::new_x().formatter(bar_number)])
        .y_grid_spacer(|grid| efforts(grid.bounds.1))
        .custom_y_axes(vec![
            AxisHints::new_y()
                .formatter(|mark, _| format!("{:.0}", mark.value))
                .label_spacing(Rangef::new(8.0, 16.0)),
        ])
        .label_formatter(|_| None);
    let steps = model.curves.first().map_or(&[][..], |curve| &curve.steps);
    let drawn = plot.show(ui, |plot| {
        if let Some((from, to)) = model.passage {
            plot.span(Span::new("passage", from..=to).fill(palette.lifted.gamma_multiply(0.6)));
        }
        if let Some(step) = chosen.and_then(|index| steps.get(index)) {
            plot.span(Span::new("chosen", step.from..=step.to).fill(palette.melody.gamma_multiply(0.25)));
        }
        if let Some(curve) = model.curves.first() {
            plot.bar_chart(columns(curve, palette.quiet.gamma_multiply(0.75)));
        }
        if let Some(curve) = model.curves.get(1) {
            plot.bar_chart(outlines(curve, palette.bass));
        }
        plot.vline(VLine::new("here", session.playhead().quarters()).color(palette.melody).width(2.0));
        plot.pointer_coordinate().filter(|_| plot.response().hovered())
    });
    (drawn.response, drawn.inner.map(|at| at.x))
}

/// What each moment costs as it is now.
fn columns(curve: &Curve, colour: Color32) -> BarChart {
    bars(curve, colour, Stroke::NONE)
}

/// What the moments that differ would cost, as outlines over the others.
fn outlines(curve: &Curve, colour: Color32) -> BarChart {
    bars(curve, colour.gamma_multiply(0.12), Stroke::new(2.0, colour))
}

fn bars(curve: &Curve, fill: Color32, stroke: Stroke) -> BarChart {
    let column = |step: &Step| {
        // A hair narrower than the moment, so that moments are told apart.
        let width = (step.to - step.from) * 0.88;
        Bar::new(f64::midpoint(step.from, step.to), step.effort).width(width).fill(fill).stroke(stroke)
    };
    BarChart::new(&curve.name, curve.steps.iter().map(column).collect()).allow_hover(false).color(fill)
}
