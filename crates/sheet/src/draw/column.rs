//! Fret figures with the digits of both hands.

use handspan_core::arrangement::ScoreNote;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::neck::{Fret, StringIndex, Touch};

use super::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::Face;
use crate::look;
use crate::points::{Point, Points};

/// The height of a figure in its own size: figures of the text font stand 0.65 em high (measured in the font).
const FIGURE_HEIGHT: f64 = 0.65;

/// The line of a string.
pub(crate) fn string_y(string: StringIndex) -> Points {
    look::STRING_GAP * string.index() as f64
}

/// The figure as printed: in brackets where it is not struck but tied in; the fret above which a harmonic is touched in
/// angle brackets, behind the stopped one where there is one (common practice, no source).
fn figure(note: &ScoreNote) -> String {
    let fret = note.place.fret;
    let figure = match note.touch {
        Touch::Plain => fret.to_string(),
        Touch::Natural => format!("‹{fret}›"),
        Touch::Artificial => format!("{fret}‹{}›", touched(fret)),
    };
    if note.tied_in { format!("({figure})") } else { figure }
}

/// The fret above which a string is touched that is stopped for an artificial harmonic.
pub(crate) fn touched(stopped: Fret) -> i16 {
    i16::from(stopped.number()) + Touch::OCTAVE.semitones()
}

/// How far a figure reaches to either side of the column's middle.
pub(crate) fn half_width(note: &ScoreNote) -> Points {
    pen::width(Face::Bold, look::FRET, &figure(note)) / 2.0
}

/// How far figure and, where it stands here, left-hand digit reach to the left and right of the column's middle.
pub(crate) fn note_extent(note: &ScoreNote, digit: Option<Finger>) -> (Points, Points) {
    let half = half_width(note);
    let finger = digit.map_or(Points::ZERO, |finger| {
        pen::width(Face::Italic, look::LEFT_FINGER, &finger.to_string()) + look::LEFT_FINGER_GAP
    });
    (half + finger, half)
}

/// A figure on its string, and the left-hand digit to its left, where no five-line staff has it.
pub(crate) fn note(note: &ScoreNote, index: usize, x: Points, digit: Option<Finger>, into: &mut Group) {
    let line = string_y(note.place.string);
    let (left, right) = note_extent(note, digit);
    let baseline = |size: Points| line + size * (FIGURE_HEIGHT / 2.0);
    let clear = crate::points::Rect {
        left: x - left - Points::new(0.6),
        top: line - look::FRET * (FIGURE_HEIGHT / 2.0),
        right: x + right + Points::new(0.6),
        bottom: line + look::FRET * (FIGURE_HEIGHT / 2.0),
    };
    into.push(Path::rectangle(clear, Ink::PAPER));
    let place = Point::new(x, baseline(look::FRET));
    let fret = pen::text_around(Face::Bold, look::FRET, &figure(note), place);
    into.push(Group::of(Role::Fret(index), fret));
    if let Some(finger) = digit {
        let place = Point::new(x - left, baseline(look::LEFT_FINGER));
        let digit = pen::text_from(Face::Italic, look::LEFT_FINGER, &finger.to_string(), place);
        into.push(Group::of(Role::LeftFinger(index), digit));
    }
}

/// From the tip of a brush's arrow to what stands to its right, and how wide the tip is.
const BRUSH_GAP: Points = Points::new(2.0);
const BRUSH_TIP: Points = Points::new(3.2);
/// The room that the arrow of a brush takes.
pub(crate) const BRUSH: Points = Points::new(5.2);

/// The lowest and the highest string over which the thumb brushes in one stroke.
pub(crate) fn brushed(notes: &[ScoreNote]) -> Option<(StringIndex, StringIndex)> {
    let thumb = || notes.iter().filter(|n| n.pluck == Some(RightFinger::Thumb)).map(|n| n.place.string);
    let (highest, lowest) = (thumb().min()?, thumb().max()?);
    let strings = thumb().count();
    (strings > 1 && lowest.index() - highest.index() + 1 == strings).then_some((lowest, highest))
}

/// The arrow of a brush beside its figures, which reach so far to the left of their middle.
pub(crate) fn brush_on_strings(notes: &[ScoreNote], x: Points, reach: Points, into: &mut Group) {
    if let Some((lowest, highest)) = brushed(notes) {
        brush(x - reach, string_y(lowest), string_y(highest), into);
    }
}

/// The arrow of a brush to the left of an edge, from the height of its first note to that of its last.
pub(crate) fn brush(edge: Points, from: Points, to: Points, into: &mut Group) {
    let x = edge - BRUSH_GAP - BRUSH_TIP / 2.0;
    let (over, tip) = (look::STRING_GAP * 0.35, BRUSH_TIP / 2.0);
    let (low, high) = (from + over, to - over);
    let at = Point::new;
    let mut group =
        Group::of(Role::Brush, Path::line(at(x, low), at(x, high + tip), Points::new(0.8), Ink::BLACK));
    let head = [at(x, high), at(x - tip, high + tip * 2.2), at(x + tip, high + tip * 2.2)];
    group.push(Path::polygon(&head, Ink::BLACK));
    into.push(group);
}

/// The right-hand letters of a stroke from bass to treble; none where no note names one.
fn letters(notes: &[ScoreNote]) -> Option<String> {
    let letters: String = notes.iter().rev().filter_map(|n| n.pluck).map(RightFinger::letter).collect();
    (!letters.is_empty()).then_some(letters)
}

/// How wide the right-hand letters of a stroke are.
pub(crate) fn right_fingers_width(notes: &[ScoreNote]) -> Option<Points> {
    letters(notes).map(|word| pen::width(Face::Italic, look::RIGHT_FINGER, &word))
}

/// The right-hand letters of a stroke on their row.
pub(crate) fn right_fingers(notes: &[ScoreNote], at: Point, into: &mut Group) {
    if let Some(word) = letters(notes) {
        let run = pen::text_around(Face::Italic, look::RIGHT_FINGER, &word, at);
        into.push(Group::of(Role::RightFingers, run));
    }
}
