//! What every finger does in a move, in words.

use handspan_core::grip::{Grip, StringSet};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, StringIndex};

use crate::draw::chord_box::roman;

/// The ways of the hand and of every finger that takes part, a sentence each.
pub(super) fn ways(from: &Grip, to: &Grip) -> Vec<String> {
    let shift = match (from.position(), to.position()) {
        (Some(old), Some(new)) if old != new => {
            Some(format!("The hand shifts from position {} to {}.", roman(old.number()), roman(new.number())))
        }
        _ => None,
    };
    let fingers = [Finger::Index, Finger::Middle, Finger::Ring, Finger::Little, Finger::Thumb];
    let (from, to) = (from.digits(), to.digits());
    let ways = fingers.into_iter().filter_map(|finger| way(finger, from.of(finger), to.of(finger)));
    shift.into_iter().chain(ways).collect()
}

/// Where a finger stands: its fret and strings.
type Stand = (Fret, StringSet);

fn way(finger: Finger, from: Option<Stand>, to: Option<Stand>) -> Option<String> {
    Some(match (from, to) {
        (None, None) => return None,
        (Some((old, before)), Some((new, strings))) => {
            let shared = !before.intersection(strings).is_empty();
            match (old == new, shared) {
                (true, true) if before == strings => format!("{finger} stays."),
                (true, true) => format!("{finger} stays at fret {new}, now on {}.", named(strings)),
                (false, true) => {
                    format!("{finger} slides along {} from fret {old} to {new}.", named(strings))
                }
                (_, false) => format!("{finger} hops to {}, fret {new}.", named(strings)),
            }
        }
        (None, Some((new, strings))) => format!("{finger} comes down on {}, fret {new}.", named(strings)),
        (Some(_), None) => format!("{finger} lifts."),
    })
}

fn named(strings: StringSet) -> String {
    let numbers: Vec<u8> = strings.iter().map(StringIndex::number).collect();
    match numbers.as_slice() {
        [only] => format!("string {only}"),
        [first, .., last] => format!("strings {first} to {last}"),
        [] => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::grip::Hold;

    use super::*;

    fn grip(holds: &[(u8, u8, u8)]) -> Grip {
        Grip::from_holds(holds.iter().map(|(string, fret, finger)| {
            let hold = Hold::plain(Fret::new(*fret), Finger::from_number(*finger));
            (StringIndex::from_number(*string).unwrap(), hold)
        }))
    }

    #[test]
    fn every_finger_has_its_way() {
        let from = grip(&[(5, 3, 3), (4, 2, 2), (2, 1, 1)]);
        let to = grip(&[(5, 2, 2), (4, 4, 4), (2, 1, 1), (1, 1, 1)]);
        let ways = ways(&from, &to);
        assert_eq!(
            ways,
            [
                "1 stays at fret 1, now on strings 1 to 2.",
                "2 hops to string 5, fret 2.",
                "3 lifts.",
                "4 comes down on string 4, fret 4."
            ]
        );
    }
}
