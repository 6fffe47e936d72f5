//! Outlines of glyphs as paths, for writers and screens that draw no fonts.

use rustybuzz::ttf_parser::{GlyphId, OutlineBuilder};

use super::font::{Face, units_per_em};
use crate::frame::Segment;
use crate::points::{Point, Points};

/// The outline of a glyph at a size, its origin on the baseline at 0, 0; empty where it has no ink.
pub fn outline(face: Face, glyph: u16, size: Points) -> Vec<Segment> {
    let mut pen = Pen { segments: Vec::new(), scale: size / units_per_em(face), last: Point::ORIGIN };
    // No bounding box means no ink, which an empty outline says already.
    let _ink = face.parsed().outline_glyph(GlyphId(glyph), &mut pen);
    pen.segments
}

struct Pen {
    segments: Vec<Segment>,
    scale: Points,
    last: Point,
}

impl Pen {
    fn at(&self, x: f32, y: f32) -> Point {
        Point::new(self.scale * f64::from(x), -(self.scale * f64::from(y)))
    }
}

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segments.push(Segment::Move(self.last));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segments.push(Segment::Line(self.last));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        // A quadratic curve is the cubic one whose control points lie two thirds of the way to its own.
        let (from, control, to) = (self.last, self.at(x1, y1), self.at(x, y));
        let toward = |p: Point| {
            Point::new(p.x + (control.x - p.x) * (2.0 / 3.0), p.y + (control.y - p.y) * (2.0 / 3.0))
        };
        self.last = to;
        self.segments.push(Segment::Curve(toward(from), toward(to), to));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.last = self.at(x, y);
        self.segments.push(Segment::Curve(self.at(x1, y1), self.at(x2, y2), self.last));
    }

    fn close(&mut self) {
        self.segments.push(Segment::Close);
    }
}
