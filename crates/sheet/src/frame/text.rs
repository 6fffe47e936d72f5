//! Runs of glyphs.

use std::ops::Range;

use super::path::Ink;
use crate::glyph::{self, Face};
use crate::points::{Point, Points, Rect};

/// A glyph of a run.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlacedGlyph {
    /// The glyph's number in its font.
    pub id: u16,
    /// The bytes of the run's text that it stands for.
    pub text: Range<usize>,
    /// How far the pen moves on, in units of the font.
    pub advance: i32,
    /// How far to the right of the pen it is drawn, in units of the font.
    pub offset_x: i32,
    /// How far above the pen it is drawn, in units of the font.
    pub offset_y: i32,
}

/// Glyphs of one font and size on one baseline, with the text they stand for.
#[derive(Clone, PartialEq, Debug)]
pub struct GlyphRun {
    /// The font.
    pub face: Face,
    /// The size of the em.
    pub size: Points,
    /// Where the baseline begins.
    pub at: Point,
    /// How dark.
    pub ink: Ink,
    /// The text, for selection, search and reading aloud.
    pub text: String,
    /// The glyphs from left to right.
    pub glyphs: Vec<PlacedGlyph>,
}

impl GlyphRun {
    /// How far the pen moves over all glyphs.
    pub fn advance(&self) -> Points {
        let units: i32 = self.glyphs.iter().map(|g| g.advance).sum();
        self.size * (f64::from(units) / glyph::units_per_em(self.face))
    }

    /// The ink; none where there is none.
    pub fn bounds(&self) -> Option<Rect> {
        let scale = self.size / glyph::units_per_em(self.face);
        let mut pen = 0;
        let mut ink: Option<Rect> = None;
        for placed in &self.glyphs {
            if let Some(rect) = glyph::ink_box(self.face, placed.id) {
                let x = |units: i32| self.at.x + scale * f64::from(pen + placed.offset_x + units);
                let y = |units: i32| self.at.y - scale * f64::from(placed.offset_y + units);
                let here = Rect::between(
                    Point::new(x(rect.x_min), y(rect.y_max)),
                    Point::new(x(rect.x_max), y(rect.y_min)),
                );
                ink = Some(ink.map_or(here, |all| all.union(here)));
            }
            pen += placed.advance;
        }
        ink
    }
}
