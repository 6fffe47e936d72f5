//! Draws the ribbon: click to stand somewhere, drag to select a passage.

use eframe::egui::{
    Align2, Color32, CornerRadius, FontId, Painter, Rect, Response, Role as AccessRole, ScrollArea, Sense,
    Stroke, Ui, WidgetInfo, pos2, vec2,
};

use super::model::{Chosen, Contour, RibbonModel, moment_in_words};
use crate::command::{Command, Go};
use crate::panels::cached::Cached;
use crate::panels::neck::lock;
use crate::panels::{Look, Queue};
use crate::session::{Arranged, Session};
use crate::theme::{Palette, STEP, medium};

/// How high the ribbon is, in points.
pub const HEIGHT: f32 = 140.0;
/// A bar is at least so wide; where not all fit, the ribbon scrolls.
const BAR: f32 = 92.0;

/// Lanes from the top down: from, to.
const NUMBERS: (f32, f32) = (2.0, 16.0);
const CHORDS: (f32, f32) = (18.0, 38.0);
const MELODY: (f32, f32) = (42.0, 82.0);
const BASS: (f32, f32) = (88.0, 106.0);
const HEAT: (f32, f32) = (110.0, 126.0);

/// What the ribbon remembers from frame to frame.
#[derive(Debug, Default)]
pub struct Ribbon {
    dragged_from: Option<f32>,
    stood: Option<usize>,
    model: Cached<Arranged, Option<RibbonModel>>,
}

impl Ribbon {
    /// Draws the ribbon over the whole width.
    pub fn show(&mut self, ui: &mut Ui, look: &Look, session: &Session, queue: &mut Queue) {
        // Lent to the drawing, which remembers other things meanwhile.
        let mut cached = std::mem::take(&mut self.model);
        if let Some(model) = cached.of(session.arranged(), || RibbonModel::of(session)) {
            self.draw(ui, look, (session, model), queue);
        }
        self.model = cached;
    }

    fn draw(
        &mut self,
        ui: &mut Ui,
        look: &Look,
        (session, model): (&Session, &RibbonModel),
        queue: &mut Queue,
    ) {
        let chosen = Chosen::of(session);
        let width = ui.available_width().max(BAR * model.bars.len() as f32);
        // Its bar floats: the ribbon's height is given.
        ui.spacing_mut().scroll.floating_allocated_width = 0.0;
        ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
            let (rect, response) =
                ui.allocate_exact_size(vec2(width, HEIGHT - 2.0 * STEP), Sense::click_and_drag());
            let lanes = Lanes { rect, per_quarter: width / model.length };
            response.widget_info(|| {
                let words = format!("The tune: moment {} of {}", chosen.here + 1, model.moments.len());
                WidgetInfo::labeled(AccessRole::Slider, true, words)
            });
            lanes.paint(ui.painter(), look, model, chosen);
            self.listen(&response, &lanes, model, queue);
            self.follow(ui, &lanes, model, chosen.here);
            let pointed_at = response.hover_pos().map(|at| lanes.quarters(at.x));
            let moment = pointed_at.and_then(|at| model.moment_at(at));
            if let Some(words) = moment.and_then(|index| moment_in_words(session, index)) {
                response.on_hover_text_at_pointer(words);
            }
        });
    }

    fn listen(&mut self, response: &Response, lanes: &Lanes, model: &RibbonModel, queue: &mut Queue) {
        let Some(at) = response.interact_pointer_pos().map(|p| lanes.quarters(p.x)) else {
            return;
        };
        if response.clicked() {
            queue.push(Command::Select(None));
            queue.push(Command::Go(Go::To(model.time(at))));
        }
        if response.drag_started() {
            self.dragged_from = Some(at);
        }
        if let Some(from) = self.dragged_from {
            // A passage begins and ends with whole bars.
            let first = model.bars.iter().rev().find(|b| b.at <= from.min(at)).map_or(0.0, |b| b.at);
            let last = model.bars.iter().find(|b| b.at > from.max(at)).map_or(model.length, |b| b.at);
            queue.push(Command::Select(Some(model.time(first)..model.time(last))));
        }
        if response.drag_stopped() {
            self.dragged_from = None;
        }
    }

    /// Keeps the playhead in sight when it moves.
    fn follow(&mut self, ui: &Ui, lanes: &Lanes, model: &RibbonModel, here: usize) {
        if self.stood == Some(here) {
            return;
        }
        self.stood = Some(here);
        if let Some(moment) = model.moments.get(here) {
            let room = 2.0 * BAR;
            let here = lanes.span(moment.from, moment.to, (0.0, HEIGHT));
            ui.scroll_to_rect(here.expand2(vec2(room, 0.0)), None);
        }
    }
}

/// From quarter notes and lanes to the screen.
struct Lanes {
    rect: Rect,
    per_quarter: f32,
}

impl Lanes {
    fn x(&self, quarters: f32) -> f32 {
        self.rect.left() + quarters * self.per_quarter
    }

    fn quarters(&self, x: f32) -> f32 {
        (x - self.rect.left()) / self.per_quarter
    }

    fn span(&self, from: f32, to: f32, lane: (f32, f32)) -> Rect {
        let top = self.rect.top();
        Rect::from_min_max(pos2(self.x(from), top + lane.0), pos2(self.x(to), top + lane.1))
    }

    /// Whether anything between two times is in sight; what stands a little to the left may reach into it.
    fn in_sight(&self, painter: &Painter, from: f32, to: f32) -> bool {
        let sight = painter.clip_rect();
        self.x(to) >= sight.left() - 2.0 * BAR && self.x(from) <= sight.right()
    }

    fn paint(&self, painter: &Painter, look: &Look, model: &RibbonModel, chosen: Chosen) {
        let palette = &look.palette;
        self.chosen(painter, look, model, chosen);
        for bar in model.bars.iter().filter(|bar| self.in_sight(painter, bar.at, bar.at)) {
            self.bar_line(painter, look, bar.at);
            let at = pos2(self.x(bar.at) + STEP, self.rect.top() + NUMBERS.0);
            let number = match &bar.section {
                Some(section) => format!("{} {section}", bar.number),
                None => bar.number.clone(),
            };
            painter.text(at, Align2::LEFT_TOP, number, FontId::proportional(look.sizes.quiet), palette.quiet);
        }
        self.bar_line(painter, look, model.length);
        for (at, chord) in model.chords.iter().filter(|(at, _)| self.in_sight(painter, *at, *at)) {
            let at = pos2(self.x(*at) + STEP, self.rect.top() + f32::midpoint(CHORDS.0, CHORDS.1));
            painter.text(at, Align2::LEFT_CENTER, chord, medium(look.sizes.body), palette.ink);
        }
        self.contour(painter, &model.melody, MELODY, palette.melody);
        self.contour(painter, &model.hooks, MELODY, palette.hook);
        self.contour(painter, &model.bass, BASS, palette.bass);
        self.heat(painter, palette, model);
    }

    fn bar_line(&self, painter: &Painter, look: &Look, at: f32) {
        let y = self.rect.top() + NUMBERS.0..=self.rect.top() + HEAT.1;
        painter.vline(self.x(at), y, Stroke::new(1.0, look.palette.line));
    }

    /// The passage and the moment where the player stands.
    fn chosen(&self, painter: &Painter, look: &Look, model: &RibbonModel, chosen: Chosen) {
        let palette = &look.palette;
        if let Some((from, to)) = chosen.passage {
            let span = self.span(from, to, (0.0, HEAT.1 + 2.0));
            painter.rect_filled(span, CornerRadius::same(look.sizes.radius), palette.lifted);
            painter.hline(span.x_range(), span.top() + 1.0, Stroke::new(2.0, palette.ink));
        }
        if let Some(moment) = model.moments.get(chosen.here) {
            let span = self.span(moment.from, moment.to, (NUMBERS.1, HEAT.1 + 2.0));
            painter.rect_filled(span, CornerRadius::ZERO, palette.melody.gamma_multiply(0.16));
            painter.vline(span.left(), span.y_range(), Stroke::new(2.0, palette.melody));
        }
    }

    fn contour(&self, painter: &Painter, notes: &[Contour], lane: (f32, f32), colour: Color32) {
        let y = |height: f32| self.rect.top() + lane.1 - height * (lane.1 - lane.0);
        for note in notes.iter().filter(|note| self.in_sight(painter, note.from, note.to)) {
            let right = self.x(note.to) - 1.5;
            painter.hline(self.x(note.from) + 1.0..=right, y(note.height), Stroke::new(4.0, colour));
        }
        for pair in notes.windows(2).filter(|pair| self.in_sight(painter, pair[0].to, pair[1].from)) {
            // Notes that follow without a rest are joined.
            if (pair[0].to - pair[1].from).abs() < 0.01 {
                let x = self.x(pair[1].from);
                let thin = Stroke::new(1.0, colour.gamma_multiply(0.6));
                painter.vline(
                    x,
                    y(pair[0].height.max(pair[1].height))..=y(pair[0].height.min(pair[1].height)),
                    thin,
                );
            }
        }
    }

    /// Effort as bars: higher and another colour the harder a moment is. Locks stand above them.
    fn heat(&self, painter: &Painter, palette: &Palette, model: &RibbonModel) {
        for moment in model.moments.iter().filter(|m| self.in_sight(painter, m.from, m.to)) {
            let colour = match moment.effort {
                e if e < 0.4 => palette.easy,
                e if e < 0.75 => palette.careful,
                _ => palette.hard,
            };
            let mut span = self.span(moment.from, moment.to, HEAT).shrink2(vec2(1.0, 0.0));
            span.min.y = span.max.y - (HEAT.1 - HEAT.0) * moment.effort.max(0.12);
            painter.rect_filled(span, CornerRadius::ZERO, colour);
            if moment.locked {
                let at = pos2(self.x(moment.from) + 6.0, self.rect.top() + MELODY.0 - 1.0);
                lock(painter, at, palette.ink, palette.ground);
            }
        }
    }
}
