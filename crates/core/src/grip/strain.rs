//! What it costs to hold a grip.

use super::effort::GripEffort;
use super::grip::{Digits, Grip, StringSet};
use super::reach::Reach;
use super::weights::{Shown, Table};
use crate::hand::Finger;
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
        for string in strings.each() {
            count(Table::FingerString, four * 6 + string.index().min(5), 1);
        }
        barre(four, strings, &mut count);
    }
    count(Table::Together, together, 1);
    for (number, (low, high)) in (0..).zip(PAIRS) {
        if let (Some(low_at), Some(high_at)) = (digits.of(low), digits.of(high)) {
            pair(number, low_at, high_at, &mut count);
            stretched(reach, number, (low, low_at.0), (high, high_at.0), &mut count);
            reversed(low_at, (high, high_at), &mut count);
        }
    }
    with_thumb(reach, &digits, &mut count);
    let open = strings(reach, grip, &mut count);
    position(reach, &digits, open, &mut count);
}

/// One finger over several strings.
fn barre(four: usize, strings: StringSet, count: &mut impl FnMut(Table, usize, i32)) {
    let Some((top, bottom)) = strings.outer().filter(|(top, bottom)| top != bottom) else { return };
    let more = bottom.index() - top.index() - 1;
    if four == 0 {
        count(Table::Barre, more.min(4), 1);
    } else {
        count(Table::SmallBarre, (four - 1) * 2 + more.min(1), 1);
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
    let (Some((low, _)), Some((high, _))) = (low_strings.outer(), high_strings.outer()) else { return };
    let across = (high.index() as i32 - low.index() as i32).clamp(-3, 3) + 3;
    count(Table::Slant, number * 35 + frets.min(4) * 7 + across as usize, 1);
}

/// A stretched pair of fingers.
fn stretched(
    reach: &Reach,
    number: usize,
    low: (Finger, Fret),
    high: (Finger, Fret),
    count: &mut impl FnMut(Table, usize, i32),
) {
    let beyond = reach.beyond(low, high);
    if beyond.relaxed > 0 {
        count(Table::Stretch, number, i32::from(beyond.relaxed));
    }
    if beyond.comfortable > 0 {
        count(Table::Strain, number, i32::from(beyond.comfortable));
    }
}

/// The thumb and its partners: it reaches as far as fingers 1 and 3.
fn with_thumb(reach: &Reach, digits: &Digits, count: &mut impl FnMut(Table, usize, i32)) {
    let Some((thumb_at, _)) = digits.of(Finger::Thumb) else { return };
    for finger in Finger::FOUR {
        if let Some((at, _)) = digits.of(finger) {
            stretched(reach, 3, (Finger::Thumb, thumb_at), (finger, at), count);
        }
    }
}

/// Fingers at one fret of which the lower-numbered one stands nearer to the treble.
fn reversed(
    (low_fret, low_strings): (Fret, StringSet),
    (high, (high_fret, high_strings)): (Finger, (Fret, StringSet)),
    count: &mut impl FnMut(Table, usize, i32),
) {
    if low_fret == high_fret {
        let crossed: usize = high_strings.each().map(|string| low_strings.above(string).len()).sum();
        if crossed > 0 {
            count(Table::Reversed, high as usize - 2, crossed as i32);
        }
    }
}

/// How far up the neck the hand stands, over so many open strings, and a finger that is down alone.
fn position(reach: &Reach, digits: &Digits, open: i32, count: &mut impl FnMut(Table, usize, i32)) {
    let (mut at, mut highest, mut fingers) = (u8::MAX, 0, 0);
    let mut last = (0, 0);
    for (finger, fret, _) in digits.iter() {
        let fret = fret.number();
        highest = highest.max(fret);
        if finger != Finger::Thumb {
            at = at.min(fret.saturating_sub(finger.number() - 1).max(1));
            fingers += 1;
            last = (finger as usize - 1, usize::from(fret));
        }
    }
    if fingers == 1 {
        // Whatever the thumb does.
        count(Table::Alone, last.0 * 10 + last.1.clamp(1, 10) - 1, 1);
    }
    if fingers == 0 {
        return;
    }
    let at = usize::from(at);
    count(Table::Position, at.min(12) - 1, 1);
    if open > 0 {
        count(Table::OpenBelow, [0, 0, 0, 1, 1, 2, 2, 2, 2, 3][at.min(9)], open);
    }
    let beyond = i32::from(highest + reach.instrument().capo()) - i32::from(reach.instrument().body_joint());
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

/// Which strings sound: where, with silent ones between, and lower ones that sound higher than the next. Gives how many
/// of them sound without a finger.
fn strings(reach: &Reach, grip: &Grip, count: &mut impl FnMut(Table, usize, i32)) -> i32 {
    let mut above: Option<(StringIndex, _)> = None;
    let mut open = 0;
    for (string, hold) in grip.holds() {
        count(Table::Zone, string.index().min(5) * 5 + zone(hold.fret()), 1);
        let pitch = reach.sounds(string, hold);
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
        open += i32::from(hold.finger().is_none());
    }
    open
}
