//! Stems, flags and beams of one voice.
//!
//! Rules (Ross, "The Art of Music Engraving and Processing", 1970; Gould, "Behind Bars", 2011; both from memory):
//!
//! - A stem is an octave long, three and a half spaces, and one that points to the middle line reaches it at least.
//! - One that points away from the middle line becomes shorter with the distance, by one space at most; a flag needs
//!   nearly the whole length.
//! - A beam leans with its outer notes, a quarter of a space for a second, half a space for a third, one space at most,
//!   and never by more than a fifth of its length. It lies flat where both ends are the same note and where an inner
//!   note reaches beyond both.

use std::ops::Range;

use super::heads::{Chord, Way};
use super::{MIDDLE, SPACE, y_of};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::points::{Point, Points, Rect};
use crate::rhythm::Voice;

const LENGTH: f64 = 3.5;
/// The shortest stem under a beam.
const SHORTEST: f64 = 2.75;
/// What a stem away from the middle line loses with every step from the second on, and what it loses at most without
/// and with a flag.
const SHORTER: f64 = 0.25;
const MOST_SHORTER: [f64; 2] = [1.0, 0.25];
/// How far a beam rises or falls for outer notes a unison, second, third and so on apart.
const SLANTS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
/// The most that a beam rises or falls on its length.
const STEEPEST: f64 = 0.2;

/// How far dots reach beyond heads and flag.
pub(crate) fn dots_reach(chord: &Chord) -> Points {
    if chord.value.dots > 0 { SPACE * (0.35 + 0.65 * f64::from(chord.value.dots)) } else { Points::ZERO }
}

/// How far a flag upwards reaches beyond the heads; dots keep clear of it.
pub(crate) fn flag_reach(chord: &Chord) -> Points {
    if chord.value.flags() > 0 && chord.way == Way::Up { SPACE * 1.1 } else { Points::ZERO }
}

/// How far a flag downwards reaches beyond its stem; dots of other voices keep clear of it.
pub(crate) fn flag_downwards(chord: &Chord) -> Points {
    if chord.value.flags() > 0 && chord.way == Way::Down { SPACE * 1.1 } else { Points::ZERO }
}

/// The head that the stem begins at, and where it would end on its own.
fn ends(chord: &Chord) -> (Points, Points) {
    let outward = match chord.way {
        Way::Up => chord.highest() - MIDDLE,
        Way::Down => MIDDLE - chord.lowest(),
    };
    let most = MOST_SHORTER[usize::from(chord.value.flags() > 0)];
    let shorter = (f64::from((outward - 1).max(0)) * SHORTER).min(most);
    let extra = SPACE * (0.6 * f64::from(chord.value.flags().saturating_sub(2)) - shorter);
    match chord.way {
        Way::Up => {
            let end = y_of(chord.highest()) - SPACE * LENGTH - extra;
            (chord.stem_start(), end.min(y_of(MIDDLE)))
        }
        Way::Down => {
            let end = y_of(chord.lowest()) + SPACE * LENGTH + extra;
            (chord.stem_start(), end.max(y_of(MIDDLE)))
        }
    }
}

/// The box of a chord's stem as it stands without a beam; none where it has no stem.
pub(crate) fn reach(chord: &Chord) -> Option<Rect> {
    let (from, to) = ends(chord);
    let (x, half) = (chord.stem_x(), SPACE * (width::STEM / 2.0));
    let rect = Rect { left: x - half, top: from.min(to), right: x + half, bottom: from.max(to) };
    (chord.value.power > 0).then_some(rect)
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
    let rise = if run > Points::ZERO {
        fall(members, first, last).min(run * STEEPEST).max(run * -STEEPEST) / run
    } else {
        0.0
    };
    let slack = SPACE * (LENGTH - SHORTEST);
    // Moved so far that no stem is too short, and the shortest is no longer than it has to be.
    let offsets = members.iter().map(|c| ends(c).1 - (c.stem_x() - x) * rise);
    let y = match first.way {
        Way::Up => offsets.reduce(Points::min)? + slack * 0.5,
        Way::Down => offsets.reduce(Points::max)? - slack * 0.5,
    };
    Some(Slant { x, y, rise })
}

/// How far the beam over some chords falls from the first to the last.
fn fall(members: &[&Chord], first: &Chord, last: &Chord) -> Points {
    let outer = |chord: &Chord| match chord.way {
        Way::Up => chord.highest(),
        Way::Down => -chord.lowest(),
    };
    let farthest_end = outer(first).max(outer(last));
    let inner_beyond =
        members.len() > 2 && members[1..members.len() - 1].iter().any(|c| outer(c) > farthest_end);
    let interval = match first.way {
        Way::Up => last.highest() - first.highest(),
        Way::Down => last.lowest() - first.lowest(),
    };
    let slant = SLANTS[(interval.unsigned_abs() as usize).min(SLANTS.len() - 1)];
    if inner_beyond { Points::ZERO } else { SPACE * (-slant * f64::from(interval.signum())) }
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
