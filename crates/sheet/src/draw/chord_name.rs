//! Chord symbols as they are set: root with its accidental, quality, raised extensions, slash bass.

use handspan_core::harmony::ChordSymbol;

use crate::frame::{GlyphRun, Group, Role};
use crate::glyph::{self, Face};
use crate::look;
use crate::points::{Point, Points, Rect};

/// How far a symbol begins to the left of its column's middle.
pub(crate) const SET_BACK: Points = Points::new(4.0);
/// The size of raised parts.
const RAISED_SIZE: f64 = 0.72;
/// How high they are raised, of the symbol's size.
const RAISED_BY: f64 = 0.30;

/// A stretch of a symbol in one manner.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Part<'a> {
    text: &'a str,
    raised: bool,
}

/// Cuts a symbol's text: what follows root and a leading `m` is raised, up to the slash of the bass.
fn parts(text: &str) -> Vec<Part<'_>> {
    let mut letters = text.chars();
    if !letters.next().is_some_and(|c| ('A'..='G').contains(&c)) || text == "N.C." {
        return vec![Part { text, raised: false }];
    }
    let is_sign = |c: char| matches!(c, '♭' | '♯' | '𝄫' | '𝄪');
    let after_root = letters.as_str().trim_start_matches(is_sign);
    let minor = after_root.starts_with('m') && !after_root.starts_with("maj");
    let after_quality = if minor { &after_root[1..] } else { after_root };
    // The slash of 6/9 belongs to the kind; the bass is a letter.
    let slash = after_quality
        .char_indices()
        .rev()
        .find(|(i, c)| *c == '/' && after_quality[i + 1..].starts_with(|c: char| c.is_ascii_uppercase()));
    let (kind, bass) = after_quality.split_at(slash.map_or(after_quality.len(), |(i, _)| i));
    let root = &text[..text.len() - after_quality.len()];
    [(root, false), (kind, true), (bass, false)]
        .into_iter()
        .filter(|(text, _)| !text.is_empty())
        .map(|(text, raised)| Part { text, raised })
        .collect()
}

fn runs(symbol: &ChordSymbol) -> Vec<GlyphRun> {
    let text = format!("{symbol:#}");
    let mut x = Points::ZERO;
    parts(&text)
        .into_iter()
        .map(|part| {
            let (size, up) = if part.raised {
                (look::CHORD * RAISED_SIZE, look::CHORD * RAISED_BY)
            } else {
                (look::CHORD, Points::ZERO)
            };
            let run = glyph::text(Face::Regular, size, part.text);
            let placed = GlyphRun { at: Point::new(x, -up), ..run };
            // The ink counts, not the advance: accidentals carry much white.
            x = placed.bounds().map_or(x, |ink| ink.right) + Points::new(0.9);
            placed
        })
        .collect()
}

/// How wide a symbol is.
pub(crate) fn width(symbol: &ChordSymbol) -> Points {
    let ink = runs(symbol).iter().filter_map(GlyphRun::bounds).reduce(Rect::union);
    ink.map_or(Points::ZERO, |ink| ink.right)
}

/// A symbol over its column, on a baseline.
pub(crate) fn draw(symbol: &ChordSymbol, x: Points, baseline: Points) -> Group {
    let mut group = Group::new(Role::ChordName);
    group.at = Point::new(x - SET_BACK, baseline);
    for run in runs(symbol) {
        group.push(run);
    }
    group
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn extensions_are_raised_and_basses_are_not() {
        let cut = |text| -> Vec<(String, bool)> {
            parts(text).into_iter().map(|p| (p.text.to_owned(), p.raised)).collect()
        };
        let owned = |parts: &[(&str, bool)]| -> Vec<(String, bool)> {
            parts.iter().map(|(text, raised)| ((*text).to_owned(), *raised)).collect()
        };
        assert_eq!(cut("C"), owned(&[("C", false)]));
        assert_eq!(cut("B♭maj7"), owned(&[("B♭", false), ("maj7", true)]));
        assert_eq!(cut("Dm7♭5/A♭"), owned(&[("Dm", false), ("7♭5", true), ("/A♭", false)]));
        assert_eq!(cut("F6/9"), owned(&[("F", false), ("6/9", true)]));
        assert_eq!(cut("N.C."), owned(&[("N.C.", false)]));
    }
}
