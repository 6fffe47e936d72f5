//! What strokes of the right hand cost.
//!
//! The rules are those of the integer program for right-hand fingerings by Dubey, Skarha and Taylor (quoted from
//! memory): no finger twice running at speed, the thumb on the bass, no crossing, no a m a in a row. The weights are
//! common practice, no source.

use super::Plucks;
use crate::hand::RightFinger;
use crate::neck::StringIndex;

/// Strokes that follow within this many milliseconds are fast, and within so many as fast as they get.
pub(super) const FAST: i64 = 350;
const FASTEST: i64 = 150;
/// Plucking twice with one finger at the fastest; less for the thumb, which is made for it.
const REPEATED: i64 = 12;
const REPEATED_THUMB: i64 = 5;
/// A line that goes on with the same finger, not the thumb, with time to spare: no trouble, but it sounds more even
/// when fingers take turns.
const REPEATED_SLOWLY: i64 = 4;
/// At speed, a finger nearer to the little one that plucks a lower string than the finger before it.
const CROSSED: i64 = 7;
/// a m a in a row at speed.
const RING_MIDDLE_RING: i64 = 12;
/// Each string by which a finger is away from its own.
const AWAY: i64 = 3;
/// Each string that the thumb is away from the lower strings.
const THUMB_HIGH: i64 = 5;
/// A bass that the thumb does not pluck; no matter for a lone note of the lower voice on the treble strings.
const BASS_ELSEWHERE: i64 = 15;
/// Each further string that the thumb brushes.
const BRUSHED: i64 = 18;
/// A lone note plucked by a or c: i and m are the stronger pair.
const LONE_RING: i64 = 7;
/// The strings from the highest on that are not the thumb's own.
const TREBLE_STRINGS: usize = 3;

/// What a stroke costs by itself.
pub(super) fn alone(plucks: &Plucks, bass: Option<StringIndex>, string_count: usize) -> i64 {
    let treble = TREBLE_STRINGS.min(string_count.saturating_sub(2));
    let away = |(string, finger): &(StringIndex, RightFinger)| match finger {
        RightFinger::Thumb => THUMB_HIGH * treble.saturating_sub(string.index()) as i64,
        RightFinger::Index => AWAY * string.index().abs_diff(2) as i64,
        RightFinger::Middle => AWAY * string.index().abs_diff(1) as i64,
        RightFinger::Ring | RightFinger::Little => AWAY * string.index() as i64,
    };
    let fingers = &plucks.fingers;
    let thumbs = fingers.iter().filter(|(_, finger)| *finger == RightFinger::Thumb).count() as i64;
    let thumbs_own = bass.filter(|bass| fingers.len() > 1 || bass.index() >= treble);
    let elsewhere =
        thumbs_own.is_some_and(|bass| plucks.finger(bass).is_some_and(|f| f != RightFinger::Thumb));
    let lone_ring = fingers.len() == 1 && fingers[0].1 >= RightFinger::Ring;
    fingers.iter().map(away).sum::<i64>()
        + BRUSHED * (thumbs - 1).max(0)
        + BASS_ELSEWHERE * i64::from(elsewhere)
        + LONE_RING * i64::from(lone_ring)
}

/// What a stroke costs after another.
pub(super) fn after(old: &Plucks, new: &Plucks, milliseconds: i64) -> i64 {
    if milliseconds >= FAST {
        return REPEATED_SLOWLY * i64::from(goes_on(old, new));
    }
    let mut cost = 0;
    let mut thumb_counted = false;
    for (string, finger) in &new.fingers {
        for (before_string, before) in &old.fingers {
            if before == finger {
                let thumb = *finger == RightFinger::Thumb;
                cost +=
                    if thumb { REPEATED_THUMB * i64::from(!thumb_counted) } else { repeated(milliseconds) };
                thumb_counted |= thumb;
            } else if (finger > before) != (string < before_string) && string != before_string {
                cost += CROSSED;
            }
        }
    }
    cost
}

/// What the same finger again costs at speed: the more, the less time it has.
fn repeated(milliseconds: i64) -> i64 {
    let spare = milliseconds.max(FASTEST) - FASTEST;
    REPEATED - (REPEATED - REPEATED_SLOWLY) * spare / (FAST - FASTEST)
}

/// Whether both strokes have one finger besides the thumb, and the same.
fn goes_on(old: &Plucks, new: &Plucks) -> bool {
    lone(old).is_some_and(|finger| lone(new) == Some(finger))
}

/// The finger that plucks, the thumb aside, where it is one alone.
fn lone(plucks: &Plucks) -> Option<RightFinger> {
    let mut fingers = plucks.fingers.iter().map(|(_, finger)| *finger).filter(|f| *f != RightFinger::Thumb);
    fingers.next().filter(|_| fingers.next().is_none())
}

/// What three strokes in a row cost at speed besides.
pub(super) fn pattern(first: &Plucks, second: &Plucks, third: &Plucks) -> i64 {
    let ring = RightFinger::Ring;
    let pattern = [first, second, third].map(lone);
    RING_MIDDLE_RING * i64::from(pattern == [ring, RightFinger::Middle, ring].map(Some))
}
