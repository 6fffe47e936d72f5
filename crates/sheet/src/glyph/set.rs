//! Text and signs set in a font: shaped, kerned, measured.

use rustybuzz::UnicodeBuffer;
use rustybuzz::ttf_parser::GlyphId;

use super::font::Face;
use super::smufl::Sign;
use crate::frame::{GlyphRun, Ink, PlacedGlyph};
use crate::points::{Point, Points};

/// The letters of a text that cannot be set in a face, nor in the one that stands in for it.
pub fn missing(face: Face, line: &str) -> Vec<char> {
    let face = standing_in(face, line);
    line.chars().filter(|c| !has(face, *c)).collect()
}

/// The face that a text is set in: the regular one where only that has all of it. Strong and slanted letters have no
/// ♭ and ♯.
fn standing_in(face: Face, line: &str) -> Face {
    let whole = |face| line.chars().all(|c| has(face, c));
    if face != Face::Music && !whole(face) && whole(Face::Regular) { Face::Regular } else { face }
}

fn has(face: Face, letter: char) -> bool {
    face.parsed().glyph_index(letter).is_some()
}

/// Sets a line of text, its baseline beginning at the origin, in the regular face where only that has all its letters;
/// letters that no face has are left out.
pub fn text(face: Face, size: Points, line: &str) -> GlyphRun {
    let face = standing_in(face, line);
    let line: String = line.chars().filter(|c| has(face, *c)).collect();
    let mut letters = line.chars();
    let glyphs = match (letters.next(), letters.next()) {
        // Most runs are a single figure, which needs no shaping.
        (Some(only), None) => single(face, only, line.len()).into_iter().collect(),
        _ => shaped(face, &line),
    };
    GlyphRun { face, size, at: Point::ORIGIN, ink: Ink::BLACK, text: line, glyphs }
}

/// Sets a musical sign for staff spaces of a size, its origin at the origin.
pub fn sign(sign: Sign, space: Points) -> GlyphRun {
    let words = sign.words();
    GlyphRun {
        face: Face::Music,
        // SMuFL: the em of a music font is four staff spaces.
        size: space * 4.0,
        at: Point::ORIGIN,
        ink: Ink::BLACK,
        text: words.to_owned(),
        glyphs: single(Face::Music, sign.code_point(), words.len()).into_iter().collect(),
    }
}

fn single(face: Face, letter: char, bytes: usize) -> Option<PlacedGlyph> {
    let id = face.parsed().glyph_index(letter)?;
    Some(PlacedGlyph { id: id.0, text: 0..bytes, advance: advance(face, id), offset_x: 0, offset_y: 0 })
}

fn advance(face: Face, id: GlyphId) -> i32 {
    face.parsed().glyph_hor_advance(id).map_or(0, i32::from)
}

fn shaped(face: Face, line: &str) -> Vec<PlacedGlyph> {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(line);
    let shaped = rustybuzz::shape(face.parsed(), &[], buffer);
    let starts: Vec<usize> = shaped.glyph_infos().iter().map(|g| g.cluster as usize).collect();
    let end_of = |start: usize| starts.iter().copied().filter(|s| *s > start).min().unwrap_or(line.len());
    let positions = shaped.glyph_positions().iter();
    positions
        .zip(shaped.glyph_infos())
        .map(|(position, info)| PlacedGlyph {
            id: info.glyph_id as u16,
            text: info.cluster as usize..end_of(info.cluster as usize),
            advance: position.x_advance,
            offset_x: position.x_offset,
            offset_y: position.y_offset,
        })
        .collect()
}
