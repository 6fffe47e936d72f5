//! Note heads, ledger lines and dots of one chord.

use std::collections::BTreeSet;

use handspan_core::arrangement::ScoreNote;

use super::{SPACE, Steps, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{STEM_ANCHOR, Sign, width};
use crate::points::{Point, Points, Rect};
use crate::rhythm::Value;

/// Which way stems point.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Way {
    Up,
    Down,
}

/// What a head looks like.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Shape {
    /// Round, hollow or full by the note's value.
    Plain,
    /// A diamond for a harmonic, hollow or full by the value, at the pitch that sounds (both ways of writing harmonics,
    /// at what sounds and at what is touched, stand in Gould, "Behind Bars", 2011; from memory).
    Diamond,
}

impl Shape {
    pub(crate) const fn of(note: &ScoreNote) -> Self {
        if note.touch.is_harmonic() { Self::Diamond } else { Self::Plain }
    }

    /// How far above the middle of the head a stem upwards begins, and below it one downwards.
    const fn anchor(self) -> f64 {
        match self {
            Self::Plain => STEM_ANCHOR,
            Self::Diamond => 0.0,
        }
    }

    fn sign(self, value: Value) -> Sign {
        let kind = value.power.min(2);
        match self {
            Self::Plain => Sign::Head(kind),
            Self::Diamond => Sign::Diamond(kind),
        }
    }
}

/// A chord of one voice at one time.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Chord {
    /// The notes as indices with their places, lowest first.
    pub notes: Vec<(usize, Steps)>,
    /// The heads of the notes, in the same order.
    pub shapes: Vec<Shape>,
    pub value: Value,
    pub way: Way,
    /// The middle of the heads that stand on the stem's usual side.
    pub x: Points,
}

impl Chord {
    pub(crate) fn lowest(&self) -> Steps {
        self.notes.first().map_or(super::MIDDLE, |(_, steps)| *steps)
    }

    pub(crate) fn highest(&self) -> Steps {
        self.notes.last().map_or(super::MIDDLE, |(_, steps)| *steps)
    }

    /// Where the stem begins.
    pub(crate) fn stem_start(&self) -> Points {
        let (steps, shape, up) = match self.way {
            Way::Up => (self.lowest(), self.shapes.first(), -SPACE),
            Way::Down => (self.highest(), self.shapes.last(), SPACE),
        };
        y_of(steps) + up * shape.map_or(STEM_ANCHOR, |shape| shape.anchor())
    }

    /// The stem's middle: at the right of the heads when it points up, at their left when it points down.
    pub(crate) fn stem_x(&self) -> Points {
        let reach = head_width(self.value) / 2.0 - SPACE * (width::STEM / 2.0);
        match self.way {
            Way::Up => self.x + reach,
            Way::Down => self.x - reach,
        }
    }

    /// The heads that stand on the other side of the stem: of two a step apart, the upper one of a stem upwards, the
    /// lower one of a stem downwards.
    fn displaced(&self) -> BTreeSet<usize> {
        let mut displaced = BTreeSet::new();
        let places: Vec<(usize, Steps)> = match self.way {
            Way::Up => self.notes.clone(),
            Way::Down => self.notes.iter().rev().copied().collect(),
        };
        for pair in places.windows(2) {
            if (pair[0].1 - pair[1].1).abs() <= 1 && !displaced.contains(&pair[0].0) {
                displaced.insert(pair[1].0);
            }
        }
        displaced
    }

    /// The middle of a note's head.
    fn head_x(&self, index: usize) -> Points {
        let aside = head_width(self.value) - SPACE * width::STEM;
        match (self.displaced().contains(&index), self.way) {
            (false, _) => self.x,
            (true, Way::Up) => self.x + aside,
            (true, Way::Down) => self.x - aside,
        }
    }

    /// The places of its ledger lines.
    pub(crate) fn ledger_lines(&self) -> impl Iterator<Item = Steps> + use<> {
        let above = (10..=self.highest()).step_by(2);
        above.chain((self.lowest()..=-2).filter(|steps| steps % 2 == 0))
    }

    /// The left edges of its heads, each with its height.
    pub(crate) fn lefts(&self) -> impl Iterator<Item = (Steps, Points)> + '_ {
        let half = head_width(self.value) / 2.0;
        self.notes.iter().map(move |(index, steps)| (*steps, self.head_x(*index) - half))
    }

    /// The boxes of its heads, a hair smaller than their ink.
    pub(crate) fn boxes(&self) -> Vec<Rect> {
        let (half, hair) = (head_width(self.value) / 2.0, Points::new(-0.2));
        let around = |(index, steps): &(usize, Steps)| {
            let (x, y) = (self.head_x(*index), y_of(*steps));
            let high = SPACE * 0.5;
            Rect { left: x - half, top: y - high, right: x + half, bottom: y + high }.grown(hair)
        };
        self.notes.iter().map(around).collect()
    }

    /// The middle and the half width of a note's head.
    pub(crate) fn head(&self, index: usize) -> (Points, Points) {
        (self.head_x(index), head_width(self.value) / 2.0)
    }

    /// The left and the right edge of its heads.
    pub(crate) fn edges(&self) -> (Points, Points) {
        let half = head_width(self.value) / 2.0;
        let xs = || self.notes.iter().map(|(index, _)| self.head_x(*index));
        let left = xs().reduce(Points::min).unwrap_or(self.x);
        let right = xs().reduce(Points::max).unwrap_or(self.x);
        (left - half, right + half)
    }
}

/// How much room a head takes, of whatever shape: the others are no wider than the plain one.
pub(crate) fn head_width(value: Value) -> Points {
    pen::sign_width(Shape::Plain.sign(value), SPACE)
}

/// Draws the heads with their ledger lines; a head that is only tied to has another role.
pub(crate) fn draw(chord: &Chord, is_struck: impl Fn(usize) -> bool, into: &mut Group) {
    ledger_lines(chord, into);
    for ((index, steps), shape) in chord.notes.iter().zip(&chord.shapes) {
        let at = Point::new(chord.head_x(*index), y_of(*steps));
        let role = if is_struck(*index) { Role::Head(*index) } else { Role::TiedHead(*index) };
        into.push(Group::of(role, pen::sign_around(shape.sign(chord.value), SPACE, at)));
    }
}

fn ledger_lines(chord: &Chord, into: &mut Group) {
    let (left, right) = chord.edges();
    let over = SPACE * width::LEDGER_EXTENSION;
    for steps in chord.ledger_lines() {
        let y = y_of(steps);
        let (from, to) = (Point::new(left - over, y), Point::new(right + over, y));
        into.push(Path::line(from, to, SPACE * width::LEDGER_LINE, Ink::BLACK));
    }
}

/// The heads of all voices at one time that have their dots, and the spaces that those take.
#[derive(Debug, Default)]
pub(crate) struct Dotted {
    heads: Vec<(Steps, Points)>,
    spaces: BTreeSet<Steps>,
}

/// Draws the dots to the right of the heads, each in a space, the one of a note on a line in the space above it (Read,
/// "Music Notation", 1969; Gould, "Behind Bars", 2011; from memory), and the next one down where that is taken, also by
/// another voice. A head that two voices share has its dots once: `taken` has the spaces of the heads dotted so far.
pub(crate) fn dots(chord: &Chord, right: Points, taken: &mut Dotted, into: &mut Group) {
    if chord.value.dots == 0 {
        return;
    }
    for (index, steps) in chord.notes.iter().rev() {
        let head = (*steps, chord.head_x(*index));
        if taken.heads.contains(&head) {
            continue;
        }
        taken.heads.push(head);
        let mut space = dot_space(*steps);
        while !taken.spaces.insert(space) {
            space -= 2;
        }
        for dot in 0..chord.value.dots {
            let x = right + SPACE * (0.35 + 0.65 * f64::from(dot));
            into.push(Group::of(Role::NoteDot, pen::sign_at(Sign::Dot, SPACE, Point::new(x, y_of(space)))));
        }
    }
}

/// The spaces that the dots of a chord want, from above.
pub(crate) fn dot_spaces(chord: &Chord) -> Vec<Steps> {
    chord.notes.iter().rev().map(|(_, steps)| dot_space(*steps)).collect()
}

const fn dot_space(head: Steps) -> Steps {
    if head % 2 == 0 { head + 1 } else { head }
}
