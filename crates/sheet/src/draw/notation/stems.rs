//! Stems and flags of one voice.
//!
//! Rules (Ross, "The Art of Music Engraving and Processing", 1970; Gould, "Behind Bars", 2011; both from memory):
//!
//! - A stem is an octave long, three and a half spaces, and one that points to the middle line reaches it at least.
//! - One that points away from the middle line becomes shorter with the distance, by one space at most; a flag or a
//!   beam needs nearly the whole length.

use super::SPACE;
use super::beams::Beam;
use super::heads::{Chord, Way};
use crate::draw::pen;
use crate::frame::{Group, Ink, Path, Role};
use crate::glyph::smufl::{Sign, width};
use crate::points::{Point, Points, Rect};
use crate::rhythm::Voice;

const LENGTH: f64 = 3.5;
/// What a stem away from the middle line loses with every step from the second on, and what it loses at most without
/// and with a flag.
const SHORTER: f64 = 0.25;
const MOST_SHORTER: [f64; 2] = [1.0, 0.25];
/// What every flag or beam from the third on adds to a stem: its own thickness and the white before it.
const LONGER: f64 = width::BEAM + width::BEAM_GAP;
/// The middle line in the heights of [`height`].
pub(super) const MIDDLE_HEIGHT: f64 = 2.0;

/// How far the head next to the stem's end lies beyond the first line of the staff that the stem comes from, in spaces:
/// both ways are measured alike, and the lines are whole numbers from 0 to 4.
pub(super) fn height(chord: &Chord) -> f64 {
    match chord.way {
        Way::Up => f64::from(chord.highest()) / 2.0,
        Way::Down => f64::from(8 - chord.lowest()) / 2.0,
    }
}

/// Where a height lies.
pub(super) fn y_of_height(way: Way, height: f64) -> Points {
    match way {
        Way::Up => -(SPACE * height),
        Way::Down => SPACE * (height - 4.0),
    }
}

/// The height at which a chord's stem would end on its own.
pub(super) fn natural_tip(chord: &Chord) -> f64 {
    let most = MOST_SHORTER[usize::from(chord.value.flags() > 0)];
    let steps_beyond = (height(chord) - MIDDLE_HEIGHT) * 2.0;
    let shorter = ((steps_beyond - 1.0).max(0.0) * SHORTER).min(most);
    let longer = LONGER * f64::from(chord.value.flags().saturating_sub(2));
    (height(chord) + LENGTH + longer - shorter).max(MIDDLE_HEIGHT)
}

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
    (chord.stem_start(), y_of_height(chord.way, natural_tip(chord)))
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
    for (_, beam) in beams(voice, chords) {
        for chord in beam.members() {
            into.push(Group::of(Role::Stem, stem(chord, ends(chord).0, beam.tip(chord))));
        }
        into.push(beam.drawn());
    }
}

/// The beams of a voice with the number of the element that each begins at.
fn beams<'a>(voice: &'a Voice, chords: &'a [Option<Chord>]) -> impl Iterator<Item = (usize, Beam<'a>)> {
    voice.beams.iter().filter_map(|group| {
        let members: Option<Vec<&Chord>> = chords[group.clone()].iter().map(Option::as_ref).collect();
        Some((group.start, Beam::of(members?)?))
    })
}

fn stem(chord: &Chord, from: Points, to: Points) -> Path {
    let x = chord.stem_x();
    Path::line(Point::new(x, from), Point::new(x, to), SPACE * width::STEM, Ink::BLACK)
}

/// The outer end of every stem, beams considered.
pub(crate) fn tips(voice: &Voice, chords: &[Option<Chord>]) -> Vec<Option<Points>> {
    let mut tips: Vec<Option<Points>> = chords.iter().map(|c| c.as_ref().map(|c| ends(c).1)).collect();
    for (start, beam) in beams(voice, chords) {
        for (tip, chord) in tips[start..].iter_mut().zip(beam.members()) {
            *tip = Some(beam.tip(chord));
        }
    }
    tips
}
