//! What it costs to hold a grip.

use super::effort::{GripEffort, GripTerm};
use super::grip::Grip;
use super::reach::Reach;
use super::weights::{Table, Weights};
use crate::hand::Finger;
use crate::hand::span::SEMITONE;
use crate::neck::{Fret, Place, StringIndex};

/// The effort of holding a grip, term by term.
pub fn grip_effort(reach: &Reach, grip: &Grip) -> GripEffort {
    let weights = reach.weights();
    let weight = |table| weights.get(table, 0);
    let mut effort = GripEffort::default();
    let mut fingers = [None; 5];
    for (finger, fret, strings) in grip.digits().iter() {
        fingers[finger as usize] = Some(fret);
        effort.add(GripTerm::Fingers, placing(weights, finger));
        let mut held = strings.iter();
        let (top, bottom) = (held.next(), held.next_back());
        if let (Some(top), Some(bottom)) = (top, bottom) {
            let more = (bottom.index() - top.index()) as i32 - 1;
            let barre = if finger == Finger::Index {
                weight(Table::Barre) + more * weight(Table::BarreString)
            } else {
                weight(Table::SmallBarre)
            };
            effort.add(GripTerm::Barre, barre);
        }
    }
    if fingers[Finger::Thumb as usize].is_some() {
        effort.add(GripTerm::Thumb, weight(Table::Thumb));
    }
    pairs(reach, &fingers, &mut effort);
    reversed(reach, grip, &mut effort);
    position(reach, grip, &mut effort);
    strings(reach, grip, &mut effort);
    crossed(reach, grip, &mut effort);
    effort
}

/// What putting a finger down costs.
pub const fn placing(weights: &Weights, finger: Finger) -> i32 {
    match finger {
        Finger::Thumb => 0,
        _ => weights.get(Table::Finger, finger as usize - 1),
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
            effort.add(GripTerm::Stretch, reach.weights().get(Table::Stretch, 0) * beyond / SEMITONE.count());
            if low != Finger::Thumb {
                let frets = i32::from(high_fret.number()) - i32::from(low_fret.number());
                let lacking = i32::from(high.number() - low.number()) - 1 - frets;
                effort.add(GripTerm::Cramped, reach.weights().get(Table::Cramped, 0) * lacking.max(0));
            }
        }
    }
}

/// Fingers at one fret of which the lower-numbered one stands nearer to the treble.
fn reversed(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    for (place, finger) in grip.stopped().filter(|(_, f)| *f != Finger::Thumb) {
        let crossed = grip.stopped().filter(|(other, lower)| {
            *lower != Finger::Thumb
                && *lower < finger
                && other.fret == place.fret
                && other.string < place.string
        });
        effort.add(GripTerm::Reversed, reach.weights().get(Table::Reversed, 0) * crossed.count() as i32);
    }
}

/// How far up the neck the hand stands.
fn position(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    let Some(at) = reach.position(grip) else { return };
    effort.add(GripTerm::Position, reach.weights().get(Table::Position, 0) * (i32::from(at.number()) - 1));
    let highest =
        grip.stopped().map(|(place, _)| place.fret.number() + reach.instrument().capo()).max().unwrap_or(0);
    let beyond = i32::from(highest) - i32::from(reach.instrument().body_joint());
    effort.add(GripTerm::Position, reach.weights().get(Table::Body, 0) * beyond.max(0));
}

/// Lower strings that sound higher than the next one.
fn crossed(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    let mut above = None;
    for (string, hold) in grip.holds() {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret });
        if above.is_some_and(|above| pitch > above) {
            effort.add(GripTerm::Crossed, reach.weights().get(Table::Crossed, 0));
        }
        above = Some(pitch);
    }
}

/// Silent strings between sounding ones, and open strings.
fn strings(reach: &Reach, grip: &Grip, effort: &mut GripEffort) {
    let mut indices = grip.holds().map(|(string, _)| string.index());
    if let (Some(top), Some(bottom)) = (indices.next(), indices.next_back()) {
        let between = (top..=bottom).map(StringIndex::new);
        let silent = between.filter(|string| grip.hold(*string).is_none()).count();
        effort.add(GripTerm::Skipped, reach.weights().get(Table::Skipped, 0) * silent as i32);
    }
    let open = grip.holds().filter(|(_, hold)| hold.finger.is_none()).count();
    effort.add(GripTerm::OpenStrings, reach.weights().get(Table::Open, 0) * open as i32);
}
