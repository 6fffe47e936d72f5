//! Drawings made larger.

use super::{Frame, GlyphRun, Group, Item, Path, Segment};
use crate::points::Point;

impl Point {
    fn enlarged(self, by: f64) -> Self {
        Self::new(self.x * by, self.y * by)
    }
}

impl Frame {
    /// The page and all that is on it, so many times as large.
    #[must_use]
    pub(crate) fn enlarged(self, by: f64) -> Self {
        Self { width: self.width * by, height: self.height * by, items: items(self.items, by) }
    }
}

impl Group {
    /// The group so many times as large, away from the origin around it.
    #[must_use]
    pub(crate) fn enlarged(self, by: f64) -> Self {
        Self { at: self.at.enlarged(by), items: items(self.items, by), ..self }
    }
}

fn items(items: Vec<Item>, by: f64) -> Vec<Item> {
    let larger = |item| match item {
        Item::Group(group) => Item::Group(group.enlarged(by)),
        Item::Path(path) => Item::Path(larger_path(path, by)),
        Item::Glyphs(run) => Item::Glyphs(GlyphRun { at: run.at.enlarged(by), size: run.size * by, ..run }),
    };
    items.into_iter().map(larger).collect()
}

fn larger_path(mut path: Path, by: f64) -> Path {
    for segment in &mut path.segments {
        *segment = match *segment {
            Segment::Move(p) => Segment::Move(p.enlarged(by)),
            Segment::Line(p) => Segment::Line(p.enlarged(by)),
            Segment::Curve(a, b, c) => Segment::Curve(a.enlarged(by), b.enlarged(by), c.enlarged(by)),
            Segment::Close => Segment::Close,
        };
    }
    if let Some(stroke) = &mut path.stroke {
        stroke.width = stroke.width * by;
    }
    path
}
