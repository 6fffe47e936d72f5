//! Effort per moment as a plot; a click stands there.

use eframe::egui::{Rangef, Sense, Stroke, Ui, Vec2b};
use egui_plot::{AxisHints, Bar, BarChart, GridMark, Line, Plot, PlotPoints, Span, VLine};

use super::model::{Curve, RouteModel};
use crate::command::{Command, Go};
use crate::panels::{Look, Queue};

/// Draws the plot in what room there is.
pub(super) fn show(ui: &mut Ui, look: &Look, model: &RouteModel, queue: &mut Queue) {
    let palette = look.palette;
    let numbers = model.bars.clone();
    let marks = model.bars.clone();
    let bar_number = move |mark: GridMark, _: &std::ops::RangeInclusive<f64>| {
        let index = numbers.partition_point(|(at, _)| *at < mark.value - 1e-6);
        numbers.get(index).map_or_else(String::new, |(_, number)| number.clone())
    };
    let every = marks.len().div_ceil(24).max(1);
    let at_bars = move |_| {
        let of_bar = |(at, _): &(f64, String)| GridMark { value: *at, step_size: 4.0 * every as f64 };
        marks.iter().step_by(every).map(of_bar).collect()
    };
    let plot = Plot::new("effort of every moment")
        .height(ui.available_height().max(80.0))
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
        .set_margin_fraction(eframe::egui::vec2(0.01, 0.08))
        .x_grid_spacer(at_bars)
        .custom_x_axes(vec![AxisHints::new_x().formatter(bar_number)])
        .custom_y_axes(vec![AxisHints::new_y().formatter(|mark, _| format!("{:.0}", mark.value))])
        .label_formatter(|_| None);
    let response = plot.show(ui, |plot| {
        if let Some((from, to)) = model.passage {
            plot.span(Span::new("passage", from..=to).fill(palette.lifted.gamma_multiply(0.6)));
        }
        if let Some(curve) = model.curves.first() {
            plot.bar_chart(bars(curve, palette.quiet.gamma_multiply(0.75)));
        }
        if let Some(curve) = model.curves.get(1) {
            plot.line(stairs(curve, Stroke::new(2.0, palette.bass)));
        }
        plot.vline(VLine::new("here", model.here).color(palette.melody).width(2.0));
        plot.pointer_coordinate().filter(|_| plot.response().hovered())
    });
    let Some(at) = response.inner else { return };
    if response.response.clicked() {
        queue.push(Command::Go(Go::To(RouteModel::time(at.x))));
    }
    let step =
        model.curves.first().and_then(|curve| curve.steps.iter().find(|s| s.from <= at.x && at.x < s.to));
    if let Some(step) = step {
        response.response.on_hover_text_at_pointer(&step.words);
    }
}

fn bars(curve: &Curve, colour: eframe::egui::Color32) -> BarChart {
    let bar = |step: &super::model::Step| {
        // A hair narrower than the moment, so that moments are told apart.
        let width = (step.to - step.from) * 0.88;
        Bar::new(f64::midpoint(step.from, step.to), step.effort)
            .width(width)
            .fill(colour)
            .stroke(Stroke::NONE)
    };
    BarChart::new(&curve.name, curve.steps.iter().map(bar).collect()).allow_hover(false).color(colour)
}

fn stairs(curve: &Curve, stroke: Stroke) -> Line<'_> {
    let corners = curve.steps.iter().flat_map(|step| [[step.from, step.effort], [step.to, step.effort]]);
    Line::new(&curve.name, corners.collect::<PlotPoints<'_>>()).stroke(stroke).allow_hover(false)
}
