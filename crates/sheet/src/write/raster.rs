//! A frame as grey pixels, for screens and pictures: the same paths and outlines as on paper, smoothed at their edges.
//!
//! A page is painted in bands from top to bottom, so that a screen can paint what it shows and no more.

use std::ops::Range;

use tiny_skia::{Color, FillRule, LineCap, Paint, PathBuilder, Pixmap, Transform};

use crate::frame::{Frame, GlyphRun, Ink, Item, Path, Segment};
use crate::glyph;
use crate::points::Points;

/// A picture in greys, row by row from the top; 0 is black, 255 is the paper's white.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Greys {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// The pixels, `width` × `height` of them.
    pub pixels: Vec<u8>,
}

/// How many pixels wide a frame is at a scale of so many pixels a point.
pub fn width_at(frame: &Frame, scale: f64) -> usize {
    whole(frame.width, scale)
}

/// How many pixels high a frame is at a scale of so many pixels a point.
pub fn height_at(frame: &Frame, scale: f64) -> usize {
    whole(frame.height, scale)
}

fn whole(length: Points, scale: f64) -> usize {
    (length.count() * scale).ceil().max(1.0) as usize
}

/// Paints some rows of a frame at a scale of so many pixels a point.
///
/// Rows below the frame's end are left out; where none is left, or a row would be longer than a picture can be, the
/// picture is empty.
pub fn greys(frame: &Frame, scale: f64, rows: Range<usize>) -> Greys {
    let (width, end) = (width_at(frame, scale), rows.end.min(height_at(frame, scale)));
    let height = end.saturating_sub(rows.start);
    let Some(mut paper) = Pixmap::new(width as u32, height as u32) else {
        return Greys { width: 0, height: 0, pixels: Vec::new() };
    };
    paper.fill(Color::WHITE);
    let onto = Transform::from_scale(scale as f32, scale as f32).post_translate(0.0, -(rows.start as f32));
    items(&mut paper, &frame.items, onto);
    // All inks are grey and lie on white, so that one of the equal channels says everything.
    let pixels = paper.data().chunks_exact(4).map(|pixel| pixel[0]).collect();
    Greys { width, height, pixels }
}

fn items(paper: &mut Pixmap, drawn: &[Item], onto: Transform) {
    for item in drawn {
        match item {
            Item::Group(group) => {
                let (x, y) = (group.at.x.count() as f32, group.at.y.count() as f32);
                items(paper, &group.items, onto.pre_translate(x, y));
            }
            Item::Path(path) => draw(paper, path, onto),
            Item::Glyphs(run) => glyphs(paper, run, onto),
        }
    }
}

fn draw(paper: &mut Pixmap, path: &Path, onto: Transform) {
    let Some(outline) = outline(&path.segments) else {
        return;
    };
    if let Some(ink) = path.fill {
        paper.fill_path(&outline, &paint(ink), FillRule::Winding, onto, None);
    }
    if let Some(stroke) = path.stroke {
        let pen = tiny_skia::Stroke {
            width: stroke.width.count() as f32,
            line_cap: if stroke.round { LineCap::Round } else { LineCap::Butt },
            ..tiny_skia::Stroke::default()
        };
        paper.stroke_path(&outline, &paint(stroke.ink), &pen, onto, None);
    }
}

fn glyphs(paper: &mut Pixmap, run: &GlyphRun, onto: Transform) {
    let unit = run.size / glyph::units_per_em(run.face);
    let mut pen = 0;
    for placed in &run.glyphs {
        let x = run.at.x + unit * f64::from(pen + placed.offset_x);
        let y = run.at.y - unit * f64::from(placed.offset_y);
        if let Some(outline) = outline(&glyph::outline(run.face, placed.id, run.size)) {
            let there = onto.pre_translate(x.count() as f32, y.count() as f32);
            paper.fill_path(&outline, &paint(run.ink), FillRule::Winding, there, None);
        }
        pen += placed.advance;
    }
}

fn paint(ink: Ink) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(ink.0, ink.0, ink.0, 255);
    paint
}

fn outline(segments: &[Segment]) -> Option<tiny_skia::Path> {
    let mut path = PathBuilder::new();
    for segment in segments {
        let at = |p: crate::points::Point| (p.x.count() as f32, p.y.count() as f32);
        match *segment {
            Segment::Move(p) => path.move_to(at(p).0, at(p).1),
            Segment::Line(p) => path.line_to(at(p).0, at(p).1),
            Segment::Curve(a, b, p) => {
                path.cubic_to(at(a).0, at(a).1, at(b).0, at(b).1, at(p).0, at(p).1);
            }
            Segment::Close => path.close(),
        }
    }
    path.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::points::{Point, Rect};

    fn frame() -> Frame {
        let square = Rect::between(
            Point::new(Points::new(2.0), Points::new(2.0)),
            Point::new(Points::new(4.0), Points::new(6.0)),
        );
        Frame {
            width: Points::new(8.0),
            height: Points::new(8.0),
            items: vec![Path::rectangle(square, Ink::BLACK).into()],
        }
    }

    #[test]
    fn ink_lies_where_the_frame_has_it() {
        let greys = greys(&frame(), 2.0, 0..100);
        assert_eq!((greys.width, greys.height), (16, 16));
        let black = |x: usize, y: usize| greys.pixels[y * greys.width + x] == 0;
        for (x, y) in (0..16).flat_map(|y| (0..16).map(move |x| (x, y))) {
            assert_eq!(black(x, y), (4..8).contains(&x) && (4..12).contains(&y), "{x}, {y}");
        }
    }

    #[test]
    fn bands_are_the_page_cut_across() {
        let whole = greys(&frame(), 1.3, 0..11);
        let upper = greys(&frame(), 1.3, 0..5);
        let lower = greys(&frame(), 1.3, 5..11);
        assert_eq!([upper.pixels, lower.pixels].concat(), whole.pixels);
        assert_eq!(greys(&frame(), 1.3, 11..20).pixels, [0; 0]);
    }
}
