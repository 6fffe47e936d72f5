//! A frame as PNG: a picture of the page, glyphs drawn from their outlines.

use thiserror::Error;
use tiny_skia::{Color, FillRule, LineCap, Paint, PathBuilder, Pixmap, Stroke as Pen, Transform};

use crate::frame::{Frame, GlyphRun, Ink, Item, Path, Segment};
use crate::glyph;
use crate::points::{Point, Points};

/// The dots of a printed inch: enough for a printer at home, little enough for a letter.
pub const DOTS_AN_INCH: f64 = 200.0;

/// Why no picture could be made.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Error {
    /// A page without area, or one larger than a picture can be.
    #[error("a page of {width} × {height} dots can't be drawn as a picture")]
    Size {
        /// How wide.
        width: u32,
        /// How high.
        height: u32,
    },
    /// The writer of the format gave up.
    #[error("the picture could not be put together ({0}); the arrangement itself is not touched")]
    Format(String),
}

/// Draws a frame with so many dots to the inch, black on white.
///
/// # Errors
/// A frame without area or larger than a picture can be.
pub fn png(frame: &Frame, dots_an_inch: f64) -> Result<Vec<u8>, Error> {
    let scale = dots_an_inch / 72.0;
    let dots = |length: Points| libm::round(length.count() * scale) as u32;
    let (width, height) = (dots(frame.width), dots(frame.height));
    let mut picture = Pixmap::new(width, height).ok_or(Error::Size { width, height })?;
    picture.fill(Color::WHITE);
    let scale = scale as f32;
    let mut canvas = Canvas { picture, transform: Transform::from_scale(scale, scale) };
    canvas.items(&frame.items, Point::ORIGIN);
    canvas.picture.encode_png().map_err(|fault| Error::Format(fault.to_string()))
}

struct Canvas {
    picture: Pixmap,
    transform: Transform,
}

impl Canvas {
    fn items(&mut self, items: &[Item], origin: Point) {
        for item in items {
            match item {
                Item::Group(group) => self.items(&group.items, origin.moved(group.at.x, group.at.y)),
                Item::Path(path) => self.path(path, origin),
                Item::Glyphs(run) => self.run(run, origin),
            }
        }
    }

    fn path(&mut self, path: &Path, origin: Point) {
        let Some(drawn) = build(&path.segments, origin) else { return };
        if let Some(ink) = path.fill {
            self.fill(&drawn, ink);
        }
        if let Some(stroke) = path.stroke {
            let line_cap = if stroke.round { LineCap::Round } else { LineCap::Butt };
            let pen = Pen { width: stroke.width.count() as f32, line_cap, ..Pen::default() };
            self.picture.stroke_path(&drawn, &paint(stroke.ink), &pen, self.transform, None);
        }
    }

    fn run(&mut self, run: &GlyphRun, origin: Point) {
        let unit = run.size / glyph::units_per_em(run.face);
        let mut pen = 0;
        for placed in &run.glyphs {
            let right = run.at.x + unit * f64::from(pen + placed.offset_x);
            let place = origin.moved(right, run.at.y - unit * f64::from(placed.offset_y));
            if let Some(drawn) = build(&glyph::outline(run.face, placed.id, run.size), place) {
                self.fill(&drawn, run.ink);
            }
            pen += placed.advance;
        }
    }

    fn fill(&mut self, path: &tiny_skia::Path, ink: Ink) {
        self.picture.fill_path(path, &paint(ink), FillRule::Winding, self.transform, None);
    }
}

fn paint(ink: Ink) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(ink.0, ink.0, ink.0, 255);
    paint
}

fn build(segments: &[Segment], origin: Point) -> Option<tiny_skia::Path> {
    let mut builder = PathBuilder::new();
    let at = |p: Point| ((p.x + origin.x).count() as f32, (p.y + origin.y).count() as f32);
    for segment in segments {
        match *segment {
            Segment::Move(p) => {
                let (x, y) = at(p);
                builder.move_to(x, y);
            }
            Segment::Line(p) => {
                let (x, y) = at(p);
                builder.line_to(x, y);
            }
            Segment::Curve(a, b, p) => {
                let ((x1, y1), (x2, y2), (x, y)) = (at(a), at(b), at(p));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            Segment::Close => builder.close(),
        }
    }
    builder.finish()
}
