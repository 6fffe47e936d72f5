//! Text and signs put at a place.

use crate::frame::GlyphRun;
use crate::glyph::smufl::Sign;
use crate::glyph::{self, Face};
use crate::points::{Point, Points};

/// From line to line of running text, of the size of the type.
pub(crate) const LEADING: f64 = 1.28;

/// Text with its baseline beginning at a place.
pub(crate) fn text_from(face: Face, size: Points, line: &str, at: Point) -> GlyphRun {
    GlyphRun { at, ..glyph::text(face, size, line) }
}

/// Text with the middle of its baseline at a place.
pub(crate) fn text_around(face: Face, size: Points, line: &str, at: Point) -> GlyphRun {
    let run = glyph::text(face, size, line);
    let half = run.advance() / 2.0;
    GlyphRun { at: at.moved(-half, Points::ZERO), ..run }
}

/// Text with its baseline ending at a place.
pub(crate) fn text_until(face: Face, size: Points, line: &str, at: Point) -> GlyphRun {
    let run = glyph::text(face, size, line);
    let advance = run.advance();
    GlyphRun { at: at.moved(-advance, Points::ZERO), ..run }
}

/// How wide a text is.
pub(crate) fn width(face: Face, size: Points, line: &str) -> Points {
    glyph::text(face, size, line).advance()
}

/// The words of a text on lines that are no wider than the width, where single words allow it.
pub(crate) fn wrapped(text: &str, face: Face, size: Points, room: Points) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(face, size, &format!("{line} {word}")) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A text set from the left, line below line, no wider than the room: a single word wider than that is set smaller
/// rather than cut off. The first baseline begins at the place.
pub(crate) fn paragraph(text: &str, face: Face, size: Points, at: Point, room: Points) -> Vec<GlyphRun> {
    let lines = wrapped(text, face, size, room);
    let last = lines.len().saturating_sub(1);
    let set = |(number, line): (usize, &String)| {
        let fitting = size * (room / width(face, size, line)).min(1.0);
        let place = at.moved(Points::ZERO, size * (LEADING * number as f64));
        // The space between two lines is there for whoever copies the text or hears it read.
        let end = if number < last { " " } else { "" };
        text_from(face, fitting, &format!("{line}{end}"), place)
    };
    lines.iter().enumerate().map(set).collect()
}

/// A sign with its origin at a place.
pub(crate) fn sign_at(sign: Sign, space: Points, at: Point) -> GlyphRun {
    GlyphRun { at, ..glyph::sign(sign, space) }
}

/// A sign with the middle of its ink at a place.
pub(crate) fn sign_around(sign: Sign, space: Points, at: Point) -> GlyphRun {
    let run = glyph::sign(sign, space);
    let Some(ink) = run.bounds() else { return run };
    let (x, y) = (ink.left + ink.width() / 2.0, ink.top + ink.height() / 2.0);
    GlyphRun { at: at.moved(-x, -y), ..run }
}

/// How wide the ink of a sign is.
pub(crate) fn sign_width(sign: Sign, space: Points) -> Points {
    glyph::sign(sign, space).bounds().map_or(Points::ZERO, |ink| ink.width())
}
