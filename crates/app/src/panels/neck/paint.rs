//! Where things lie in pixels, and how they are painted.

use eframe::egui::{
    Align2, Color32, CornerRadius, Painter, Pos2, Rangef, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2,
};

use super::model::{Barre, Mark, NeckModel, Role, Spot};
use crate::panels::Look;
use crate::theme::{STEP, strong};

/// Strings apart at the nut and at the bridge of a six-string guitar, in millimetres (design of the hand).
const APART: (f32, f32) = (43.0 / 5.0, 58.0 / 5.0);
/// Strings never come closer on the screen, so that marks can be told apart and clicked.
const CLOSEST: f32 = 23.0;
/// Strings never lie farther apart, so that the neck leaves room for the rest.
const FARTHEST: f32 = 34.0;
/// Room before the nut for the strings' names and open strings.
const BEFORE_NUT: f32 = 60.0;
/// Room behind the last fret.
const BEHIND: f32 = 28.0;
/// Wood beyond the outer strings.
const EDGE: f32 = 12.0;
/// Room under the neck for the numbers of frets.
const NUMBERS: f32 = 20.0;
/// Half the room of a number.
const NUMBER: f32 = 10.0;

/// From millimetres on the neck to points on the screen.
#[derive(Clone, Copy, Debug)]
pub(super) struct Geometry {
    /// Where the nut lies.
    nut: f32,
    /// 1 where the frets run to the right, −1 where they run to the left.
    way: f32,
    middle: f32,
    per_mm: f32,
    across: f32,
    strings: usize,
    scale: f32,
}

impl Geometry {
    pub(super) fn new(model: &NeckModel, rect: Rect) -> Self {
        let mut geometry = Self::of_width(model, rect.width());
        if model.left_handed {
            (geometry.nut, geometry.way) = (rect.right() - BEFORE_NUT, -1.0);
        } else {
            (geometry.nut, geometry.way) = (rect.left() + BEFORE_NUT, 1.0);
        }
        geometry.middle = rect.top() + (rect.height() - NUMBERS) / 2.0;
        geometry
    }

    fn of_width(model: &NeckModel, width: f32) -> Self {
        let length = model.wires.last().copied().unwrap_or(1.0);
        let per_mm = (width - BEFORE_NUT - BEHIND) / length;
        // Along the neck proportions are true; across, too, as far as marks can still be told apart.
        let across = (APART.0 * per_mm).clamp(CLOSEST, FARTHEST) / APART.0;
        Self {
            nut: 0.0,
            way: 1.0,
            middle: 0.0,
            per_mm,
            across,
            strings: model.strings.len(),
            scale: model.scale,
        }
    }

    pub(super) fn height(model: &NeckModel, width: f32) -> f32 {
        let geometry = Self::of_width(model, width);
        let end = model.wires.last().copied().unwrap_or(0.0);
        2.0 * geometry.half_width(end) + NUMBERS
    }

    pub(super) fn x(&self, mm: f32) -> f32 {
        self.nut + self.way * mm * self.per_mm
    }

    /// So far outside the nut.
    fn outside(&self, points: f32) -> f32 {
        self.nut - self.way * points
    }

    pub(super) fn apart(&self, mm: f32) -> f32 {
        (APART.0 + (APART.1 - APART.0) * mm / self.scale) * self.across
    }

    pub(super) fn y(&self, string: usize, mm: f32) -> f32 {
        let from_middle = string as f32 - (self.strings as f32 - 1.0) / 2.0;
        self.middle + from_middle * self.apart(mm)
    }

    fn half_width(&self, mm: f32) -> f32 {
        (self.strings as f32 - 1.0) / 2.0 * self.apart(mm) + EDGE
    }

    pub(super) fn radius(&self) -> f32 {
        (self.apart(0.0) * 0.44).min(14.0)
    }

    /// The middle of a mark: between two wires, nearer the one that it presses against.
    pub(super) fn spot(&self, model: &NeckModel, spot: Spot) -> Pos2 {
        let mm = spot.fret.map(|fret| {
            let (from, to) = (model.wires[fret - 1], model.wires[fret]);
            from + 0.58 * (to - from)
        });
        let nut = model.wires[model.capo];
        if let Some(mm) = mm {
            return pos2(self.x(mm), self.y(spot.string, mm));
        }
        let outside = self.way * (2.0 * STEP + self.radius());
        pos2(self.x(nut) - outside, self.y(spot.string, nut))
    }

    /// The spot that a point on the screen is nearest to, if it is on the strings.
    pub(super) fn spot_at(&self, model: &NeckModel, at: Pos2) -> Option<Spot> {
        let mm = self.way * (at.x - self.nut) / self.per_mm;
        let from_middle = (at.y - self.middle) / self.apart(mm.max(0.0));
        let string = (from_middle + (self.strings as f32 - 1.0) / 2.0).round();
        let on_strings = string >= 0.0 && (string as usize) < self.strings;
        let fret = model.wires.partition_point(|w| *w < mm);
        let on_neck = fret < model.wires.len() && mm > -BEFORE_NUT / self.per_mm;
        (on_strings && on_neck)
            .then(|| Spot { string: string as usize, fret: (fret > model.capo).then_some(fret) })
    }
}

pub(super) fn wood(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let palette = &look.palette;
    let end = model.wires.last().copied().unwrap_or(0.0) + BEHIND / g.per_mm;
    let edge = |mm: f32, side: f32| pos2(g.x(mm), g.middle + side * g.half_width(mm));
    let outline = vec![edge(0.0, -1.0), edge(end, -1.0), edge(end, 1.0), edge(0.0, 1.0)];
    painter.add(Shape::convex_polygon(outline, palette.wood, Stroke::NONE));
    inlays(painter, look, model, g);
    for mm in model.wires.iter().skip(1) {
        painter.line_segment([edge(*mm, -1.0), edge(*mm, 1.0)], Stroke::new(2.0, palette.wire));
    }
    let nut = Rect::from_two_pos(edge(0.0, -1.0) - vec2(5.0 * g.way, 0.0), edge(0.0, 1.0));
    painter.rect_filled(nut, CornerRadius::same(2), palette.nut);
    painter.rect_stroke(nut, CornerRadius::same(2), Stroke::new(1.0, palette.wire), StrokeKind::Inside);
    if model.capo > 0 {
        let mm = model.wires[model.capo];
        let bar =
            Rect::from_two_pos(edge(mm, -1.0) - vec2(9.0 * g.way, 5.0), edge(mm, 1.0) + vec2(-g.way, 5.0));
        painter.rect_filled(bar, CornerRadius::same(4), palette.capo);
    }
}

fn inlays(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    for (fret, middle) in inlaid(model) {
        let dots: &[f32] = if fret % 12 == 0 { &[-1.0, 1.0] } else { &[0.0] };
        for side in dots {
            let at = pos2(g.x(middle), g.middle + side * g.apart(middle));
            painter.circle_filled(at, 5.0, look.palette.inlay);
        }
    }
}

/// The frets with an inlay, and how far from the nut their middles lie.
fn inlaid(model: &NeckModel) -> impl Iterator<Item = (usize, f32)> + '_ {
    let frets = [3, 5, 7, 9, 12, 15, 17, 19, 21, 24].into_iter();
    let on_neck = frets.take_while(|fret| *fret < model.wires.len());
    on_neck.map(|fret| (fret, f32::midpoint(model.wires[fret - 1], model.wires[fret])))
}

/// The numbers of the inlaid frets under the neck.
pub(super) fn numbers(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let y = g.middle + g.half_width(model.wires.last().copied().unwrap_or(0.0)) + 3.0;
    for (number, x) in numbered(model, g) {
        painter.text(pos2(x, y), Align2::CENTER_TOP, number, strong(look.sizes.quiet), look.palette.ink);
    }
}

/// The numbers of the inlaid frets, counted from the capo, and where they stand.
fn numbered<'a>(model: &'a NeckModel, g: &'a Geometry) -> impl Iterator<Item = (usize, f32)> + 'a {
    let counted = |(fret, middle): (usize, f32)| Some((fret.checked_sub(model.capo)?, g.x(middle)));
    inlaid(model).filter_map(counted).filter(|(number, _)| *number > 0)
}

/// From where on a piece of the legend is clear of the numbers.
fn clear_of_numbers(model: &NeckModel, g: &Geometry, from: f32, width: f32) -> f32 {
    let mut spans: Vec<Rangef> = numbered(model, g).map(|(_, x)| Rangef::point(x).expand(NUMBER)).collect();
    spans.sort_by(|a, b| a.min.total_cmp(&b.min));
    spans.iter().fold(from, |from, span| {
        if span.intersects(Rangef::new(from, from + width)) { span.max + NUMBER } else { from }
    })
}

pub(super) fn strings(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let end = model.wires.last().copied().unwrap_or(0.0) + BEHIND / g.per_mm;
    for (index, string) in model.strings.iter().enumerate() {
        // Wound strings are thicker; a silent string is dimmed.
        let gauge = 1.0 + 0.4 * index as f32;
        let colour = look.palette.strings.gamma_multiply(if string.sounds { 1.0 } else { 0.4 });
        let line = [pos2(g.x(0.0), g.y(index, 0.0)), pos2(g.x(end), g.y(index, end))];
        painter.line_segment(line, Stroke::new(gauge, colour));
        let font = eframe::egui::FontId::proportional(look.sizes.quiet);
        let at = pos2(g.outside(BEFORE_NUT - 4.0 * STEP), g.y(index, 0.0));
        let ink = if string.sounds { look.palette.ink } else { look.palette.quiet };
        painter.text(at, Align2::CENTER_CENTER, &string.name, font, ink);
    }
}

/// The fingers of the grip before, or of the next, hollow, each with a line to where it stands in the grip shown.
pub(super) fn ways(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let colour = look.palette.quiet;
    let r = g.radius();
    for way in &model.ways {
        let other = g.spot(model, way.spot);
        painter.circle_stroke(other, r * 0.8, Stroke::new(1.0, colour));
        let Some(here) = way.here.map(|here| g.spot(model, here)) else { continue };
        let (from, to) = if model.ahead { (here, other) } else { (other, here) };
        let (leaving, landing) = if model.ahead { (r, r * 0.8) } else { (r * 0.8, r) };
        let along = (to - from).normalized();
        if (to - from).length() > leaving + landing {
            let line = [from + along * leaving, to - along * landing];
            painter.line_segment(line, Stroke::new(1.25, colour));
            painter.circle_filled(line[1], 2.5, colour);
        }
    }
}

/// A finger that may be down already: a broken ring with its digit, on nothing but wood.
pub(super) fn waiting(painter: &Painter, look: &Look, g: &Geometry, at: Pos2, finger: char) {
    let r = g.radius() * 0.8;
    painter.circle_filled(at, r, look.palette.wood);
    painter.extend(broken_ring(at, r, Stroke::new(1.5, look.palette.quiet)));
    let font = eframe::egui::FontId::proportional(look.sizes.quiet);
    painter.text(at, Align2::CENTER_CENTER, finger, font, look.palette.quiet);
}

/// A ring of eight dashes.
fn broken_ring(at: Pos2, r: f32, stroke: Stroke) -> Vec<Shape> {
    let on_ring = |step: usize| at + r * Vec2::angled(step as f32 * std::f32::consts::TAU / 48.0);
    let dash = |from: usize| Shape::line((from..from + 5).map(on_ring).collect(), stroke);
    (0..48).step_by(6).map(dash).collect()
}

/// Other places of the chord's tones: small and faint, the root's with a rim.
pub(super) fn tones(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let faint = look.palette.strings.gamma_multiply(0.7);
    for tone in &model.tones {
        let at = g.spot(model, tone.spot);
        if tone.label.is_empty() {
            painter.circle_filled(at, 3.0, faint);
            if tone.root {
                painter.circle_stroke(at, 5.5, Stroke::new(1.0, faint));
            }
        } else {
            let r = g.radius() * 0.72;
            painter.circle(at, r, look.palette.wood, Stroke::new(if tone.root { 1.5 } else { 0.0 }, faint));
            let font = eframe::egui::FontId::proportional(look.sizes.quiet);
            painter.text(at, Align2::CENTER_CENTER, &tone.label, font, look.palette.quiet);
        }
    }
}

/// The string that keys change, while a grip is built.
pub(super) fn building(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let Some(string) = model.building else { return };
    let end = model.wires.last().copied().unwrap_or(0.0) + BEHIND / g.per_mm;
    let line = [pos2(g.outside(BEFORE_NUT - 2.0 * STEP), g.y(string, 0.0)), pos2(g.x(end), g.y(string, end))];
    let glow = look.palette.melody.gamma_multiply(0.28);
    painter.line_segment(line, Stroke::new(g.radius() * 1.2, glow));
}

pub(super) fn barre(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry, barre: &Barre) {
    let end = |string| g.spot(model, Spot { string, fret: Some(barre.fret) });
    let half = Vec2::splat(g.radius() * 0.62);
    let bar = Rect::from_two_pos(end(barre.from), end(barre.to)).expand2(half);
    painter.rect_filled(bar, CornerRadius::same(half.x as u8), look.palette.other);
}

pub(super) fn mark(painter: &Painter, look: &Look, g: &Geometry, at: Pos2, mark: &Mark) {
    let palette = &look.palette;
    // What still rings is smaller than what is struck.
    let r = g.radius() * if mark.struck { 1.0 } else { 0.78 };
    let (rim, figure) = match mark.role {
        Role::Melody => {
            painter.circle(at, r - 1.5, palette.ground, Stroke::new(3.0, palette.melody));
            (palette.melody, palette.melody)
        }
        Role::Bass => {
            let square = Rect::from_center_size(at, Vec2::splat(2.0 * r - 2.0));
            painter.rect_filled(square, CornerRadius::same(3), palette.bass);
            (palette.bass, palette.on_mark)
        }
        Role::Hook => {
            painter.add(diamond(at, r, palette.hook));
            (palette.hook, palette.on_mark)
        }
        Role::Other => {
            painter.circle_filled(at, r, palette.other);
            (palette.other, palette.on_mark)
        }
    };
    let size = match (mark.struck, mark.label.chars().count()) {
        (true, 0..=1) => look.sizes.body,
        _ => look.sizes.quiet,
    };
    painter.text(at, Align2::CENTER_CENTER, &mark.label, strong(size), figure);
    if mark.locked {
        lock(painter, at + vec2(r, -r), rim, palette.ground);
    }
}

/// A diamond as large as a disc.
fn diamond(at: Pos2, r: f32, colour: Color32) -> Shape {
    let corners = [vec2(0.0, -r), vec2(r, 0.0), vec2(0.0, r), vec2(-r, 0.0)].map(|to| at + 1.2 * to);
    Shape::convex_polygon(corners.to_vec(), colour, Stroke::NONE)
}

/// What the shapes mean, under the first frets and between their numbers.
pub(super) fn legend(painter: &Painter, look: &Look, model: &NeckModel, g: &Geometry) {
    let palette = &look.palette;
    let end = model.wires.last().copied().unwrap_or(0.0);
    let start = if g.way > 0.0 { g.nut } else { g.x(end) };
    let mut at = pos2(start + STEP, g.middle + g.half_width(end) + 10.0);
    let r = 4.5;
    let other_grip = if model.ahead { "next" } else { "before" };
    let has = |name: &&str| match *name {
        "hook" => model.marks.iter().any(|mark| mark.role == Role::Hook),
        "may go down early" => !model.waiting.is_empty(),
        _ => true,
    };
    let names = ["melody", "bass", "hook", "other", other_grip, "may go down early"];
    for name in names.into_iter().filter(has) {
        let font = eframe::egui::FontId::proportional(look.sizes.quiet);
        let words = painter.layout_no_wrap(name.to_owned(), font, palette.quiet);
        let width = words.size().x + 8.0;
        at.x = clear_of_numbers(model, g, at.x - r, width + r) + r;
        match name {
            "melody" => painter.circle(at, r - 1.0, palette.ground, Stroke::new(2.0, palette.melody)),
            "bass" => painter.rect_filled(
                Rect::from_center_size(at, Vec2::splat(2.0 * r - 1.0)),
                CornerRadius::same(1),
                palette.bass,
            ),
            "hook" => painter.add(diamond(at, r, palette.hook)),
            "other" => painter.circle_filled(at, r, palette.other),
            "may go down early" => {
                painter.extend(broken_ring(at, r, Stroke::new(1.0, palette.quiet)));
                painter.add(Shape::Noop)
            }
            _ => painter.circle_stroke(at, r - 0.5, Stroke::new(1.0, palette.quiet)),
        };
        painter.galley(at + vec2(8.0, -words.size().y / 2.0), words, palette.quiet);
        at.x += width + 3.0 * STEP;
    }
}

/// A small padlock.
pub(crate) fn lock(painter: &Painter, at: Pos2, colour: Color32, ground: Color32) {
    let body = Rect::from_center_size(at + vec2(0.0, 1.5), vec2(8.0, 6.0));
    painter.circle_stroke(at - vec2(0.0, 1.5), 2.5, Stroke::new(1.5, colour));
    painter.rect(body, CornerRadius::same(1), colour, Stroke::new(1.0, ground), StrokeKind::Outside);
}
