//! Fingers of a finished route that may go down early, because it costs nothing.
//!
//! A finger that lands at a moment may be down moments before, as long as all of this holds: it is free; its string is
//! silent, or stopped higher up by another finger, so that no sounding pitch changes (a barre counts as a whole); the
//! hand can hold it together with the grip and with the other fingers that wait; no two of them are strained or
//! reversed for it; and the hand stands where it stands at the landing, so that nothing has to travel for it or with
//! it. Effort and choice of the route know nothing of this: it is told to the player.

use crate::grip::fingering::Held;
use crate::grip::{Grip, Reach, StringSet};
use crate::hand::Finger;
use crate::neck::{Fret, Touch};

/// A finger that may go down before its note is struck.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Early {
    /// The finger.
    pub finger: Finger,
    /// Its fret.
    pub fret: Fret,
    /// The strings that it will hold.
    pub strings: StringSet,
    /// The index of the moment from which on it may be down.
    pub since: usize,
    /// The index of the moment at which it is needed.
    pub lands: usize,
}

impl Early {
    /// Whether it may be down at a moment already, though it isn't needed yet.
    pub const fn waits_at(&self, moment: usize) -> bool {
        self.since <= moment && moment < self.lands
    }
}

/// Every finger of a route that may go down early, in the order in which they land; at one moment by their number.
///
/// All that wait at a moment can be down together; who lands first is served first.
pub fn early(reach: &Reach, grips: &[Grip]) -> Vec<Early> {
    let mut hands: Vec<Option<Held<'_>>> = grips.iter().map(|grip| Held::new(reach, grip)).collect();
    let stands: Vec<Option<Fret>> = grips
        .iter()
        .scan(None, |stood, grip| {
            *stood = grip.position().or(*stood);
            Some(*stood)
        })
        .collect();
    let mut found = Vec::new();
    for (lands, grip) in grips.iter().enumerate() {
        for (finger, fret, strings) in grip.digits().iter().filter(|(finger, ..)| presses(grip, *finger)) {
            let stays = |moment: &usize| stands[*moment].is_none() || stands[*moment] == stands[lands];
            let mut waits =
                |moment: &usize| hands[*moment].as_mut().is_some_and(|hand| hand.wait(finger, fret, strings));
            let since = (0..lands).rev().take_while(|moment| stays(moment) && waits(moment)).last();
            found.extend(since.map(|since| Early { finger, fret, strings, since, lands }));
        }
    }
    found
}

/// Whether a finger presses its strings; for a natural harmonic it only touches, and leaves at once.
fn presses(grip: &Grip, finger: Finger) -> bool {
    grip.holds().all(|(_, hold)| hold.finger() != Some(finger) || hold.touch() != Touch::Natural)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grip::Hold;
    use crate::hand::Hand;
    use crate::neck::{Instrument, StringIndex};

    /// A grip written from the lowest string to the highest, `fret/finger`, `0` or `x`.
    fn grip(text: &str) -> Grip {
        let holds = text.split_whitespace().rev().enumerate().filter_map(|(string, word)| {
            let hold = match word.split_once('/') {
                Some((fret, finger)) => Hold::stopped(
                    Fret::new(fret.parse().unwrap()),
                    Finger::from_number(finger.parse().unwrap()).unwrap(),
                ),
                None if word == "0" => Hold::OPEN,
                None => return None,
            };
            Some((StringIndex::new(string), hold))
        });
        Grip::from_holds(holds)
    }

    /// `finger:since-lands` for every finger that may go down early.
    #[track_caller]
    fn check(grips: &[&str], expected: &str) {
        let grips: Vec<Grip> = grips.iter().map(|text| grip(text)).collect();
        let found = early(&Reach::new(&Instrument::classical(), &Hand::default()), &grips);
        let words = found.iter().map(|early| format!("{}:{}-{}", early.finger, early.since, early.lands));
        assert_eq!(words.collect::<Vec<_>>().join(" "), expected, "{grips:?}");
    }

    #[test]
    fn a_silent_string_takes_the_finger_of_the_next_chord() {
        // An open melody note, then C: its fingers may all be there.
        check(&["x x x x x 0", "x 3/3 2/2 0 1/1 0"], "1:0-1 2:0-1 3:0-1");
        // As far back as the string is silent and the finger free.
        check(&["x x x 0 x 0", "x x x x 0 0", "x x x x x 0", "x 3/3 x x x x"], "3:0-3");
        check(&["x x x x 3/3 x", "x x x x x 0", "x 3/3 x x x x"], "3:1-2");
        check(&["x 0 x x x x", "x x x x x 0", "x 3/3 x x x x"], "3:1-2");
    }

    #[test]
    fn a_sounding_pitch_stays_as_it_is() {
        // Behind a finger that stops the string higher up, never before one.
        check(&["x x x x 3/3 x", "x x x x 1/1 x"], "1:0-1");
        check(&["x x x x 1/1 x", "x x x x 3/3 x"], "");
        check(&["x x x x 0 x", "x x x x 1/1 x"], "");
    }

    #[test]
    fn a_barre_lies_down_as_a_whole() {
        check(&["x x x 4/3 x x", "x x x 2/1 2/1 2/1"], "1:0-1");
        check(&["x x x 4/3 x 0", "x x x 2/1 2/1 2/1"], "");
        // The string between its outer ones is under it as well.
        check(&["x x x x 0 x", "x x x 2/1 5/4 2/1"], "");
        // No finger waits under the barre of another.
        check(&["x 4/3 x 4/3 x x", "x x 3/2 x x x"], "");
    }

    #[test]
    fn the_hand_neither_travels_nor_strains() {
        check(&["x x x x x 1/1", "x x x x x 0", "x 7/3 x x x x"], "");
        // Fingers 1 and 2 are farther apart than comfortable.
        check(&["x x x x x 1/1", "x x 4/2 x x 1/1"], "");
        // Neighbours the other way round.
        check(&["x x x 2/2 x x", "x x x 2/2 2/1 x"], "");
    }

    #[test]
    fn fingers_that_wait_get_on_with_one_another() {
        // Finger 3 waits for the next moment; finger 4 may wait with it, but not at a lower fret.
        check(&["x x x x x 0", "x 3/3 x x x x", "x x 4/4 x x x"], "3:0-1 4:0-2");
        check(&["x x x x x 0", "x 3/3 x x x x", "x x 2/4 x x x"], "3:0-1");
    }
}
