//! What it costs to hold a grip.

use super::effort::GripEffort;
use super::grip::{Digits, Grip, StringSet};
use super::reach::Reach;
use super::weights::{Shown, Table};
use crate::hand::Finger;
use crate::hand::span::SEMITONE;
use crate::neck::{Fret, StringIndex};

/// The pairs of fingers, in the order of the tables.
const PAIRS: [(Finger, Finger); 6] = [
    (Finger::Index, Finger::Middle),
    (Finger::Middle, Finger::Ring),
    (Finger::Ring, Finger::Little),
    (Finger::Index, Finger::Ring),
    (Finger::Middle, Finger::Little),
    (Finger::Index, Finger::Little),
];

/// The effort of holding a grip, term by term.
pub fn grip_effort(reach: &Reach, grip: &Grip) -> GripEffort {
    let mut effort = GripEffort::default();
    each_strain(reach, grip, |table, entry, count| {
        if let Shown::Grip(term) = table.shown() {
            effort.add(term, reach.weights().get(table, entry) * count);
        }
    });
    effort
}

/// Names every weight that holding a grip counts, and how often.
///
/// This is the one statement of what a grip is: its effort, its terms and the learning of its weights all come from
/// here.
pub fn each_strain(reach: &Reach, grip: &Grip, mut count: impl FnMut(Table, usize, i32)) {
    let digits = grip.digits();
    let mut together = 0;
    for (finger, _, strings) in digits.iter() {
        let Some(four) = (finger as usize).checked_sub(1) else {
            count(Table::Thumb, 0, 1);
            continue;
        };
        together |= 1 << four;
        count(Table::Finger, four, 1);
        for string in strings.iter() {
            count(Table::FingerString, four * 6 + string.index().min(5), 1);
        }
        barre(four, strings, &mut count);
    }
    count(Table::Together, together, 1);
    alone(&digits, &mut count);
    for (number, (low, high)) in (0..).zip(PAIRS) {
        if let (Some(low_at), Some(high_at)) = (digits.of(low), digits.of(high)) {
            pair(number, low_at, high_at, &mut count);
        }
    }
    stretched(reach, &digits, &mut count);
    reversed(grip, &mut count);
    position(reach, grip, &mut count);
    strings(reach, grip, &mut count);
}

/// How far two fingers go beyond relaxed and beyond comfortable, in half [`SEMITONE`]s, rounded down.
fn beyond(reach: &Reach, (low, low_at): (Finger, Fret), (high, high_at): (Finger, Fret)) -> (i32, i32) {
    let (apart, span) = (reach.apart(low_at, high_at), reach.span(low, high));
    let steps = |limit| ((apart - limit).count() * 2 / SEMITONE.count()).max(0);
    (steps(span.relaxed), steps(span.comfortable))
}

/// How far two fingers go beyond comfortable, in half [`SEMITONE`]s, rounded down.
pub(super) fn strained(reach: &Reach, one: (Finger, Fret), other: (Finger, Fret)) -> u8 {
    beyond(reach, one, other).1 as u8
}

/// A finger that is down alone, whatever the thumb does.
fn alone(digits: &Digits, count: &mut impl FnMut(Table, usize, i32)) {
    let mut down = digits.iter().filter(|(finger, ..)| *finger != Finger::Thumb);
    if let (Some((finger, fret, _)), None) = (down.next(), down.next()) {
        count(Table::Alone, (finger as usize - 1) * 10 + usize::from(fret.number()).clamp(1, 10) - 1, 1);
    }
}

/// One finger over several strings.
fn barre(four: usize, strings: StringSet, count: &mut impl FnMut(Table, usize, i32)) {
    let mut held = strings.iter();
    if let (Some(top), Some(bottom)) = (held.next(), held.next_back()) {
        let more = bottom.index() - top.index() - 1;
        if four == 0 {
            count(Table::Barre, more.min(4), 1);
        } else {
            count(Table::SmallBarre, (four - 1) * 2 + more.min(1), 1);
        }
    }
}

/// How two fingers lie to one another, along the neck and across.
fn pair(
    number: usize,
    (low_fret, low_strings): (Fret, StringSet),
    (high_fret, high_strings): (Fret, StringSet),
    count: &mut impl FnMut(Table, usize, i32),
) {
    let frets = usize::from(high_fret.number().saturating_sub(low_fret.number()));
    count(Table::Apart, number * 7 + frets.min(6), 1);
    let (Some(low), Some(high)) = (low_strings.iter().next(), high_strings.iter().next()) else { return };
    let across = (high.index() as i32 - low.index() as i32).clamp(-3, 3) + 3;
    count(Table::Slant, number * 35 + frets.min(4) * 7 + across as usize, 1);
}

/// Stretched pairs of fingers, the thumb and its partner included.
fn stretched(reach: &Reach, digits: &Digits, count: &mut impl FnMut(Table, usize, i32)) {
    // The thumb reaches as far as fingers 1 and 3.
    let thumb = Finger::FOUR.map(|finger| ((Finger::Thumb, finger), 3));
    for ((low, high), number) in PAIRS.into_iter().zip(0..).chain(thumb) {
        if let (Some((low_at, _)), Some((high_at, _))) = (digits.of(low), digits.of(high)) {
            let (stretch, strain) = beyond(reach, (low, low_at), (high, high_at));
            if stretch > 0 {
                count(Table::Stretch, number, stretch);
            }
            if strain > 0 {
                count(Table::Strain, number, strain);
            }
        }
    }
}

/// Fingers at one fret of which the lower-numbered one stands nearer to the treble.
fn reversed(grip: &Grip, count: &mut impl FnMut(Table, usize, i32)) {
    for (place, finger) in grip.stopped().filter(|(_, f)| *f > Finger::Index) {
        let crossed = grip.stopped().filter(|(other, lower)| {
            *lower != Finger::Thumb
                && *lower < finger
                && other.fret == place.fret
                && other.string < place.string
        });
        let crossed = crossed.count() as i32;
        if crossed > 0 {
            count(Table::Reversed, finger as usize - 2, crossed);
        }
    }
}

/// How far up the neck the hand stands.
fn position(reach: &Reach, grip: &Grip, count: &mut impl FnMut(Table, usize, i32)) {
    let open = grip.holds().filter(|(_, hold)| hold.finger().is_none()).count() as i32;
    let Some(at) = grip.position() else { return };
    let at = usize::from(at.number());
    count(Table::Position, at.min(12) - 1, 1);
    if open > 0 {
        count(Table::OpenBelow, [0, 0, 0, 1, 1, 2, 2, 2, 2, 3][at.min(9)], open);
    }
    let highest =
        grip.stopped().map(|(place, _)| place.fret.number() + reach.instrument().capo()).max().unwrap_or(0);
    let beyond = i32::from(highest) - i32::from(reach.instrument().body_joint());
    if beyond > 0 {
        count(Table::Body, 0, beyond);
    }
}

/// The zone of a fret.
const fn zone(fret: Fret) -> usize {
    match fret.number() {
        0 => 0,
        1..=4 => 1,
        5..=7 => 2,
        8..=11 => 3,
        _ => 4,
    }
}

/// Which strings sound: where, with silent ones between, and lower ones that sound higher than the next.
fn strings(reach: &Reach, grip: &Grip, count: &mut impl FnMut(Table, usize, i32)) {
    let mut above: Option<(StringIndex, _)> = None;
    for (string, hold) in grip.holds() {
        count(Table::Zone, string.index().min(5) * 5 + zone(hold.fret()), 1);
        let pitch = hold.sounds(reach.instrument(), string);
        if let Some((above, higher)) = above {
            let silent = (string.index() - above.index()) as i32 - 1;
            if silent > 0 {
                count(Table::Skipped, 0, silent);
            }
            if pitch > higher {
                count(Table::Crossed, 0, 1);
            }
        }
        above = Some((string, pitch));
    }
}
