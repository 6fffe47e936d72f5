//! The beam over one group of stems: how it leans, and where it lies among the lines of the staff.
//!
//! Rules (Ross, "The Art of Music Engraving and Processing", 1970; Gould, "Behind Bars", 2011; both from memory):
//!
//! - A beam leans with its outer notes, a quarter of a space for a second, half a space for a third, one space at most,
//!   half a space where all stems are stretched to the middle line, and never by more than a fifth of its length.
//! - It lies flat where both ends are the same note, where an inner note reaches beyond both, and over a figure that is
//!   repeated.
//! - Inside the staff each end hangs from a line, straddles it or sits on it, so that no sliver of white is left between
//!   beam and line; a second and third beam as well, which leaves them fewer places.
//! - Stems become as long as that asks for: the innermost beam stays two spaces away from every head, and the beam
//!   reaches the middle line.

use super::SPACE;
use super::heads::{Chord, Way};
use super::stems::{MIDDLE_HEIGHT, height, natural_tip, y_of_height};
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::width;
use crate::points::{Point, Points};

/// How far a beam rises or falls for outer notes a unison, second, third and so on apart, in quarters of a space.
const SLANTS: [i32; 5] = [0, 1, 2, 3, 4];
/// The most where all stems are stretched to the middle line.
const STRETCHED: i32 = 2;
/// The most that a beam rises or falls on its length.
const STEEPEST: f64 = 0.2;
/// From a head to the outer edge of its outermost beam at least, for one, two, three and four beams.
const SHORTEST: [f64; 4] = [2.75, 3.25, 4.0, 5.5];
/// How far from where it would lie best a beam is moved, in quarters of a space.
const FARTHEST: i32 = 6;
/// What it costs to take a quarter of a space from the slant, to add one to the stems and to take one from them.
const FLATTER: f64 = 3.0;
const LONGER: f64 = 1.0;
const SHORTER: f64 = 1.2;

/// A beam with the chords under it.
#[derive(Debug)]
pub(super) struct Beam<'a> {
    members: Vec<&'a Chord>,
    /// The heights of the outer edge at the first and the last stem, in quarters of a space.
    ends: (i32, i32),
}

impl<'a> Beam<'a> {
    /// The beam over some chords; none over none.
    pub(super) fn of(members: Vec<&'a Chord>) -> Option<Self> {
        let (first, last) = (*members.first()?, *members.last()?);
        let wanted = slant(&members, (last.stem_x() - first.stem_x()) / SPACE);
        let lowest = members.iter().map(|chord| natural_tip(chord)).reduce(f64::max)?;
        let from = libm::round(lowest * 4.0) as i32 - wanted.abs() - FARTHEST;
        let slants = (0..=wanted.abs()).map(|slant| slant * wanted.signum());
        let places = slants.flat_map(|slant| {
            (from..=from + wanted.abs() + 2 * FARTHEST).map(move |start| (start, start + slant))
        });
        let costs = places.filter_map(|ends| {
            let beam = Self { members: members.clone(), ends };
            let cost = beam.cost()? + FLATTER * f64::from((ends.1 - ends.0 - wanted).abs());
            Some((cost, ends))
        });
        let (_, ends) = costs.min_by(|a, b| a.0.total_cmp(&b.0))?;
        Some(Self { members, ends })
    }

    /// The chords under it.
    pub(super) fn members(&self) -> &[&'a Chord] {
        &self.members
    }

    /// Where the stem of one of its chords ends.
    pub(super) fn tip(&self, chord: &Chord) -> Points {
        self.y_at(chord.stem_x())
    }

    fn way(&self) -> Way {
        self.members[0].way
    }

    /// The height of its outer edge.
    fn height_at(&self, x: Points) -> f64 {
        let (from, to) = (self.members[0].stem_x(), self.members[self.members.len() - 1].stem_x());
        let part = if to > from { (x - from) / (to - from) } else { 0.0 };
        (f64::from(self.ends.0) + f64::from(self.ends.1 - self.ends.0) * part) / 4.0
    }

    fn y_at(&self, x: Points) -> Points {
        y_of_height(self.way(), self.height_at(x))
    }

    /// What its place costs: the stem that is closest to its natural length should have it. None for a place that the
    /// rules forbid.
    fn cost(&self) -> Option<f64> {
        let flags = |chord: &Chord| chord.value.flags();
        let (first, last) = (self.members[0], self.members[self.members.len() - 1]);
        if !is_fitted(self.ends.0, flags(first)) || !is_fitted(self.ends.1, flags(last)) {
            return None;
        }
        let mut spare = f64::MAX;
        for chord in &self.members {
            let tip = self.height_at(chord.stem_x());
            let shortest = SHORTEST[usize::from(flags(chord).clamp(1, 4)) - 1];
            if tip < (height(chord) + shortest).max(MIDDLE_HEIGHT) - 0.001 {
                return None;
            }
            spare = spare.min((tip - natural_tip(chord)) * 4.0);
        }
        Some(if spare < 0.0 { -spare * SHORTER } else { spare * LONGER })
    }

    /// From the outer edge of one beam to that of the next one within, in spaces. Four beams stand a whole space apart,
    /// since there is no other place among the lines for all of them.
    fn step(&self) -> f64 {
        if self.levels() > 3 { 1.0 } else { width::BEAM + width::BEAM_GAP }
    }

    fn levels(&self) -> u8 {
        self.members.iter().map(|chord| chord.value.flags()).max().unwrap_or(0)
    }

    /// The beams themselves.
    pub(super) fn drawn(&self) -> Group {
        let mut beams = Group::new(Role::Beam);
        let flags = |i: usize| self.members[i].value.flags();
        for level in 1..=self.levels() {
            let mut i = 0;
            while i < self.members.len() {
                let run = (i..self.members.len()).take_while(|k| flags(*k) >= level).count();
                if run > 0 {
                    beams.push(self.bar(self.span(i, run), level));
                }
                i += run.max(1);
            }
        }
        beams
    }

    /// From where to where a beam over some members goes; over a single one a short one points into the group.
    fn span(&self, first: usize, count: usize) -> (Points, Points) {
        let half = SPACE * (width::STEM / 2.0);
        let (from, to) = (self.members[first].stem_x(), self.members[first + count - 1].stem_x());
        match (count, first) {
            (1, 0) => (from - half, to + SPACE * 1.1),
            (1, _) => (from - SPACE * 1.1, to + half),
            _ => (from - half, to + half),
        }
    }

    fn bar(&self, (from, to): (Points, Points), level: u8) -> Path {
        let inward = if self.way() == Way::Up { 1.0 } else { -1.0 };
        let away = SPACE * (inward * self.step() * f64::from(level - 1));
        let thick = SPACE * (width::BEAM * inward);
        let corner = |x: Points, deep: Points| Point::new(x, self.y_at(x) + away + deep);
        Path::polygon(
            &[corner(from, Points::ZERO), corner(to, Points::ZERO), corner(to, thick), corner(from, thick)],
            Ink::BLACK,
        )
    }
}

/// Whether an end with so many beams, its outer edge at a height in quarters of a space, leaves no sliver of white
/// inside the staff: no beam has its middle in the middle of a space.
fn is_fitted(edge: i32, beams: u8) -> bool {
    let step = if beams > 3 { 4 } else { 3 };
    (0..i32::from(beams)).all(|level| {
        let middle = edge - 1 - step * level;
        middle.rem_euclid(4) != 2 || !(0..=16).contains(&middle)
    })
}

/// How far a beam of a length in spaces should rise towards its last chord, in quarters of a space.
fn slant(members: &[&Chord], length: f64) -> i32 {
    let steps: Vec<i32> = members.iter().map(|chord| (height(chord) * 2.0) as i32).collect();
    let (first, last) = (steps[0], steps[steps.len() - 1]);
    let is_repeated = (2..=steps.len() / 2).any(|figure| {
        steps.len().is_multiple_of(figure) && steps.chunks(figure).all(|part| part == &steps[..figure])
    });
    if steps.iter().any(|step| *step > first.max(last)) || is_repeated {
        return 0;
    }
    let interval = last - first;
    let by_interval = SLANTS[(interval.unsigned_abs() as usize).min(SLANTS.len() - 1)];
    let by_length = libm::floor((length * STEEPEST * 4.0).max(0.0)) as i32;
    let is_stretched = |chord: &&Chord| natural_tip(chord) <= MIDDLE_HEIGHT;
    let most = if members.iter().all(is_stretched) { STRETCHED } else { i32::MAX };
    by_interval.min(by_length).min(most) * interval.signum()
}
