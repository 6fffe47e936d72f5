//! What it costs to hold a grip.
//!
//! The constants are set by hand for now: whole points, where ten or so are what a player notices. Sources are named
//! where there are any; the rest is common practice, no source.

use super::effort::{GripEffort, GripTerm};
use super::grip::Grip;
use super::reach::Reach;
use crate::hand::Finger;
use crate::hand::span::SEMITONE;
use crate::neck::{Fret, Place, StringIndex};

/// Putting a finger down, from finger 1 to finger 4: weak fingers cost more.
///
/// The order follows the use of the four fingers in published fingerings, 0.35 / 0.30 / 0.25 / 0.10 (Hori and
/// Sagayama 2016, quoted second-hand).
pub const FINGER: [i32; 4] = [3, 4, 5, 8];
/// The thumb over the edge: a habit of some players, an effort for all.
const THUMB: i32 = 14;
/// Each [`SEMITONE`] that two fingers are apart beyond relaxed, and again beyond comfortable (Parncutt 1997: 2 each).
const STRETCH: i32 = 2;
/// Each fret that two fingers lack to lie side by side.
const CRAMPED: i32 = 2;
/// A barre of finger 1: two strings, and each further one.
const BARRE: i32 = 5;
const BARRE_STRING: i32 = 2;
/// A barre of finger 2, 3 or 4.
const SMALL_BARRE: i32 = 20;
/// Two neighbouring fingers the other way round.
const REVERSED: i32 = 12;
/// Each fret up the neck the hand stands.
const POSITION: i32 = 2;
/// Each fret beyond the body joint.
const BODY: i32 = 8;
/// Each silent string between sounding ones (after the rubric of Vélez Vásquez et al. 2023).
const SKIPPED: i32 = 2;
/// Each pair of neighbouring sounding strings of which the lower one sounds higher: thumb and ear expect it otherwise.
const CROSSED: i32 = 8;
/// Each open string, a credit.
const OPEN: i32 = -3;

/// The effort of holding a grip, term by term.
pub fn grip_effort(reach: &Reach, grip: &Grip) -> GripEffort {
    let mut effort = GripEffort::default();
    let mut fingers = [None; 5];
    for (finger, fret, strings) in grip.digits().iter() {
        fingers[finger as usize] = Some(fret);
        effort.add(GripTerm::Fingers, placing(finger));
        let mut held = strings.iter();
        let (top, bottom) = (held.next(), held.next_back());
        if let (Some(top), Some(bottom)) = (top, bottom) {
            let more = (bottom.index() - top.index()) as i32 - 1;
            let barre = if finger == Finger::Index { BARRE + more * BARRE_STRING } else { SMALL_BARRE };
            effort.add(GripTerm::Barre, barre);
        }
    }
    if fingers[Finger::Thumb as usize].is_some() {
        effort.add(GripTerm::Thumb, THUMB);
    }
    pairs(reach, &fingers, &mut effort);
    reversed(grip, &mut effort);
    position(reach, grip, &mut effort);
    strings(grip, &mut effort);
    crossed(reach, grip, &mut effort);
    effort
}

/// What putting a finger down costs.
pub const fn placing(finger: Finger) -> i32 {
    match finger {
        Finger::Thumb => 0,
        _ => FINGER[finger as usize - 1],
    }
}

/// Stretched and cramped pairs of fingers.
fn pairs(reach: &Reach, fingers: &[Option<Fret>; 5], effort: &mut GripEffort) {
    let digits = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];
    for (i, low) in digits.into_iter().enumerate() {
        let Some(low_fret) = fingers[low as usize] else {
            continue;
        };
        for high in digits.into_iter().skip(i + 1) {
            let Some(high_fret) = fingers[high as usize] else {
                continue;
            };
            let (apart, span) = (reach.apart(low_fret, high_fret), reach.span(low, high));
            let beyond = (apart - span.relaxed).count().max(0) + (apart - span.comfortable).count().max(0);
            effort.add(GripTerm::Stretch, STRETCH * beyond / SEMITONE.count());
            if low != Finger::Thumb {
                let frets = i32::from(high_fret.number()) - i32::from(low_fret.number());
                let lacking = i32::from(high.number() - low.number()) - 1 - frets;
                effort.add(GripTerm::Cramped, CRAMPED * lacking.max(0));
            }
        }
    }
}

/// Fingers at one fret of which the lower-numbered one stands nearer to the treble.
fn reversed(grip: &Grip, effort: &mut GripEffort) {
    for (place, finger) in grip.stopped().filter(|(_, f)| *f != Finger::Thumb) {
        let crossed = grip.stopped().filter(|(other, lower)| {
            *lower != Finger::Thumb
                && *lower < finger
                && other.fret == place.fret
                && other.string < place.string
        });
        effort.add(GripTerm::Reversed, REVERSED * crossed.count() as i32);
    }
}

/// How far up the neck the hand stands.
fn position(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    let Some(at) = reach.position(grip) else { return };
    effort.add(GripTerm::Position, POSITION * (i32::from(at.number()) - 1));
    let highest =
        grip.stopped().map(|(place, _)| place.fret.number() + reach.instrument().capo()).max().unwrap_or(0);
    let beyond = i32::from(highest) - i32::from(reach.instrument().body_joint());
    effort.add(GripTerm::Position, BODY * beyond.max(0));
}

/// Lower strings that sound higher than the next one.
fn crossed(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    let mut above = None;
    for (string, hold) in grip.holds() {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret });
        if above.is_some_and(|above| pitch > above) {
            effort.add(GripTerm::Crossed, CROSSED);
        }
        above = Some(pitch);
    }
}

/// Silent strings between sounding ones, and open strings.
fn strings(grip: &Grip, effort: &mut GripEffort) {
    let mut indices = grip.holds().map(|(string, _)| string.index());
    if let (Some(top), Some(bottom)) = (indices.next(), indices.next_back()) {
        let between = (top..=bottom).map(StringIndex::new);
        let silent = between.filter(|string| grip.hold(*string).is_none()).count();
        effort.add(GripTerm::Skipped, SKIPPED * silent as i32);
    }
    let open = grip.holds().filter(|(_, hold)| hold.finger.is_none()).count();
    effort.add(GripTerm::OpenStrings, OPEN * open as i32);
}
