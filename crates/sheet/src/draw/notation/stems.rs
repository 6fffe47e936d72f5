//! Stems, flags and beams of one voice.
//!
//! Rules of the notation handbooks (common practice): a stem is three and a half spaces long and reaches at least the
//! middle line; a beam leans with its outer notes, by one space at most.

use std::ops::Range;

use super::heads::{Chord, Way};
use super::{MIDDLE, SPACE, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{STEM_ANCHOR, Sign, width};
use crate::points::{Point, Points};
use crate::rhythm::Voice;

const LENGTH: f64 = 3.5;
/// The shortest stem under a beam.
const SHORTEST: f64 = 2.75;
/// The most that a beam rises or falls.
const SLANT: f64 = 1.0;

/// What stands to the right of the heads: a flag upwards, dots.
pub(crate) fn right_reach(chord: &Chord) -> Points {
    flag_reach(chord) + dots_reach(chord)
}

/// How far dots reach beyond heads and flag.
pub(crate) fn dots_reach(chord: &Chord) -> Points {
    if chord.value.dots > 0 { SPACE * (0.35 + 0.65 * f64::from(chord.value.dots)) } else { Points::ZERO }
}

/// How far a flag upwards reaches beyond the heads; dots keep clear of it.
pub(crate) fn flag_reach(chord: &Chord) -> Points {
    if chord.value.flags() > 0 && chord.way == Way::Up { SPACE * 1.1 } else { Points::ZERO }
}

/// The head that the stem begins at, and where it would end on its own.
fn ends(chord: &Chord) -> (Points, Points) {
    let extra = SPACE * (0.6 * f64::from(chord.value.flags().saturating_sub(2)));
    match chord.way {
        Way::Up => {
            let end = y_of(chord.highest()) - SPACE * LENGTH - extra;
            (y_of(chord.lowest()) - SPACE * STEM_ANCHOR, end.min(y_of(MIDDLE)))
        }
        Way::Down => {
            let end = y_of(chord.lowest()) + SPACE * LENGTH + extra;
            (y_of(chord.highest()) + SPACE * STEM_ANCHOR, end.max(y_of(MIDDLE)))
        }
    }
}

/// Draws the stems of a voice; elements without a chord are rests.
pub(crate) fn draw(voice: &Voice, chords: &[Option<Chord>], into: &mut Group) {
    for (element, chord) in chords.iter().enumerate() {
        let beamed = voice.beams.iter().any(|b| b.contains(&element));
        if let Some(chord) = chord.as_ref().filter(|c| !beamed && c.value.power > 0) {
            let (from, to) = ends(chord);
            let mut group = Group::of(Role::Stem, stem(chord, from, to));
            let at = Point::new(chord.stem_x() - SPACE * (width::STEM / 2.0), to);
            match (chord.value.flags(), chord.way) {
                (0, _) => {}
                (flags, Way::Up) => group.push(pen::sign_at(Sign::FlagUp(flags), SPACE, at)),
                (flags, Way::Down) => group.push(pen::sign_at(Sign::FlagDown(flags), SPACE, at)),
            }
            into.push(group);
        }
    }
    for group in &voice.beams {
        let members: Vec<&Chord> = chords[group.clone()].iter().flatten().collect();
        beam(voice, group, &members, into);
    }
}

fn stem(chord: &Chord, from: Points, to: Points) -> Path {
    let x = chord.stem_x();
    Path::line(Point::new(x, from), Point::new(x, to), SPACE * width::STEM, Ink::BLACK)
}

/// The line of a beam's outer edge.
struct Slant {
    x: Points,
    y: Points,
    rise: f64,
}

impl Slant {
    fn at(&self, x: Points) -> Points {
        self.y + (x - self.x) * self.rise
    }
}

fn slant(members: &[&Chord]) -> Option<Slant> {
    let (first, last) = (members.first()?, members.last()?);
    let (x, run) = (first.stem_x(), last.stem_x() - first.stem_x());
    let wanted = (ends(last).1 - ends(first).1) * 0.5;
    let fall = wanted.max(SPACE * -SLANT).min(SPACE * SLANT);
    let rise = if run > Points::ZERO { fall / run } else { 0.0 };
    let slack = SPACE * (LENGTH - SHORTEST);
    // Moved so far that no stem is too short, and the shortest is no longer than it has to be.
    let offsets = members.iter().map(|c| ends(c).1 - (c.stem_x() - x) * rise);
    let y = match first.way {
        Way::Up => offsets.reduce(Points::min)? + slack * 0.5,
        Way::Down => offsets.reduce(Points::max)? - slack * 0.5,
    };
    Some(Slant { x, y, rise })
}

/// The outer end of every stem, beams considered.
pub(crate) fn tips(voice: &Voice, chords: &[Option<Chord>]) -> Vec<Option<Points>> {
    let mut tips: Vec<Option<Points>> = chords.iter().map(|c| c.as_ref().map(|c| ends(c).1)).collect();
    for group in &voice.beams {
        let members: Vec<&Chord> = chords[group.clone()].iter().flatten().collect();
        let Some(slant) = slant(&members).filter(|_| members.len() == group.len()) else { continue };
        for (tip, chord) in tips[group.clone()].iter_mut().zip(members) {
            *tip = Some(slant.at(chord.stem_x()));
        }
    }
    tips
}

fn beam(voice: &Voice, group: &Range<usize>, members: &[&Chord], into: &mut Group) {
    let Some(slant) = slant(members).filter(|_| members.len() == group.len()) else { return };
    for chord in members {
        into.push(Group::of(Role::Stem, stem(chord, ends(chord).0, slant.at(chord.stem_x()))));
    }
    let way = members[0].way;
    let inward = if way == Way::Up { 1.0 } else { -1.0 };
    let mut beams = Group::new(Role::Beam);
    let flags = |i: usize| voice.elements[group.start + i].value.flags();
    let most = (0..members.len()).map(flags).max().unwrap_or(0);
    for level in 1..=most {
        let away = SPACE * (inward * (width::BEAM + width::BEAM_GAP) * f64::from(level - 1));
        let mut i = 0;
        while i < members.len() {
            let run = (i..members.len()).take_while(|k| flags(*k) >= level).count();
            if run > 0 {
                let (from, to) = span(members, i, run);
                beams.push(bar(&slant, (from, to), away, inward));
            }
            i += run.max(1);
        }
    }
    into.push(beams);
}

/// From where to where a beam over some members goes; over a single one a short one points into the group.
fn span(members: &[&Chord], first: usize, count: usize) -> (Points, Points) {
    let half = SPACE * (width::STEM / 2.0);
    let (from, to) = (members[first].stem_x(), members[first + count - 1].stem_x());
    match (count, first) {
        (1, 0) => (from - half, to + SPACE * 1.1),
        (1, _) => (from - SPACE * 1.1, to + half),
        _ => (from - half, to + half),
    }
}

fn bar(slant: &Slant, (from, to): (Points, Points), away: Points, inward: f64) -> Path {
    let thick = SPACE * (width::BEAM * inward);
    let corner = |x: Points, deep: Points| Point::new(x, slant.at(x) + away + deep);
    Path::polygon(
        &[corner(from, Points::ZERO), corner(to, Points::ZERO), corner(to, thick), corner(from, thick)],
        Ink::BLACK,
    )
}
