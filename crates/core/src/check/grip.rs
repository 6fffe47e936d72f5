//! One grip, judged by itself.

use super::left::{self, GripFault, Stop};
use crate::grip::Grip;
use crate::hand::Hand;
use crate::neck::{Instrument, Place};

/// Every hard rule of the hand and the neck that a grip breaks; empty when a hand can hold it.
pub fn grip(instrument: &Instrument, hand: &Hand, grip: &Grip) -> Vec<GripFault> {
    let stops: Vec<Stop> = grip
        .holds()
        .map(|(string, hold)| Stop {
            place: Place { string, fret: hold.fret() },
            touch: hold.touch(),
            finger: hold.finger(),
        })
        .collect();
    left::judge(instrument, hand, &stops)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::grip::Hold;
    use crate::hand::Finger;
    use crate::neck::{Fret, StringIndex, Touch};

    /// A grip from the lowest string to the highest: `x 3/3 2/2 0 1/1 0`; `<12>/4` is a natural harmonic and `5<17>/1` an
    /// artificial one.
    fn written(text: &str) -> Grip {
        let strings: Vec<&str> = text.split_whitespace().collect();
        let holds = strings.iter().rev().enumerate().filter_map(|(index, hold)| {
            let (fret, finger) = match hold.split_once('/') {
                Some((fret, "T")) => (fret, Some(Finger::Thumb)),
                Some((fret, finger)) => (fret, Finger::from_number(finger.parse().unwrap())),
                None => (*hold, None),
            };
            let (touch, fret) = match fret.split_once('<') {
                None => (Touch::Plain, fret),
                Some(("", node)) => (Touch::Natural, node.trim_end_matches('>')),
                Some((stopped, _)) => (Touch::Artificial, stopped),
            };
            let hold = Hold::touched(Fret::new(fret.parse().ok()?), touch)?;
            Some((StringIndex::new(index), finger.map_or(Some(hold), |finger| hold.under(finger))?))
        });
        Grip::from_holds(holds)
    }

    fn faults_of(hand: Hand, text: &str) -> Vec<GripFault> {
        grip(&Instrument::classical(), &hand, &written(text))
    }

    /// Judges with a medium hand whose thumb stays behind the neck.
    fn faults(text: &str) -> Vec<GripFault> {
        faults_of(Hand::default(), text)
    }

    #[track_caller]
    fn fine(text: &str) {
        assert_eq!(faults(text), [], "{text}");
    }

    #[track_caller]
    fn refused(text: &str, sentence: &str) {
        let sentences: Vec<String> = faults(text).iter().map(ToString::to_string).collect();
        assert_eq!(sentences, [sentence], "{text}");
    }

    #[test]
    fn grips_that_players_use_are_fine() {
        for text in [
            "x 3/3 2/2 0 1/1 0",
            "3/3 2/2 0 0 0 1/1",
            "x 0 2/2 2/1 2/3 0",
            "1/1 3/3 3/4 2/2 1/1 1/1",
            "x 2/1 4/2 4/3 4/4 2/1",
            "x x 5/1 5/1 5/1 7/3",
            "x 1/1 3/3 3/3 3/3 x",
            "0 2/2 2/3 1/1 0 0",
            "x x x x x x",
        ] {
            fine(text);
        }
    }

    #[test]
    fn frets_lie_within_the_neck() {
        refused("x x x x x 20/1", "there is no string 1, fret 20 on this neck");
        fine("x x x x x 19/1");
        let seven = Grip::from_holds([(StringIndex::new(6), Hold::OPEN)]);
        assert_eq!(grip(&Instrument::classical(), &Hand::default(), &seven).len(), 1);
    }

    #[test]
    fn stopped_strings_have_fingers_and_open_ones_none() {
        refused("x x x x x 0/1", "finger 1 is on string 1, which sounds open");
        refused("x x x x x 3", "no finger stops string 1, fret 3");
        fine("x x x x x 0");
    }

    #[test]
    fn a_finger_is_at_one_fret() {
        refused("x x x 5/2 x 7/2", "finger 2 is on string 1, fret 7 and on string 3, fret 5 at once");
        fine("x x x 5/2 5/2 x");
    }

    #[test]
    fn nothing_sounds_lower_under_a_barre() {
        refused("x x 2/1 0 2/1 x", "the barre of finger 1 at fret 2 lies over string 3 open");
        refused("x 3/2 1/1 3/2 x x", "the barre of finger 2 at fret 3 lies over string 4, fret 1");
        fine("0 x 2/1 4/3 2/1 0");
        fine("x x 2/1 x 2/1 x");
    }

    #[test]
    fn no_finger_stands_on_a_barring_one() {
        refused("x x 2/1 2/2 2/1 x", "finger 2 stands on the barre of finger 1 at fret 2");
        fine("x x 2/1 2/1 2/2 x");
    }

    #[test]
    fn only_finger_one_bars_more_than_three_strings() {
        refused("x x 3/3 3/3 3/3 3/3", "finger 3 cannot bar strings 1 to 4");
        fine("x x x 3/3 3/3 3/3");
        fine("3/1 3/1 3/1 3/1 3/1 3/1");
    }

    #[test]
    fn the_thumb_holds_the_lowest_string_alone_and_only_where_it_may() {
        let thumb = Hand { thumb: true, ..Hand::default() };
        refused("2/T 0 x x x x", "this hand does not use its thumb on the neck");
        assert_eq!(faults_of(thumb, "2/T 0 2/1 x x x"), []);
        assert_eq!(faults_of(thumb, "x 2/T x x x x"), [GripFault::ThumbInside(StringIndex::new(4))]);
        // The thumb is exempt from the order of the fingers.
        assert_eq!(faults_of(thumb, "3/T x x x 1/1 x"), []);
    }

    #[test]
    fn fingers_stand_in_order_along_the_neck() {
        refused("x x x 3/1 2/2 x", "finger 1 at fret 3 stands above finger 2 at fret 2");
        fine("x x x 3/2 2/1 x");
    }

    #[test]
    fn only_neighbouring_fingers_stand_the_other_way_round() {
        refused("x x x 2/3 2/1 x", "fingers 1 and 3 stand the wrong way round at fret 2");
        fine("x x x 2/2 2/1 x");
        fine("x x x 2/4 2/3 x");
        fine("x x x 2/1 2/3 x");
    }

    #[test]
    fn fingers_reach_only_so_far() {
        refused(
            "x x x 1/1 6/4 x",
            "fingers 1 and 4 are 154.3 mm apart, farther than the 137.5 mm they reach",
        );
        fine("x x x 1/1 5/4 x");
        fine("x x x 7/1 12/4 x");
        // The same grip fits again behind a capo, where the frets lie closer.
        let capo =
            Instrument::try_new(crate::neck::Tuning::standard(), 19, Instrument::CLASSICAL_SCALE, 5).unwrap();
        assert_eq!(grip(&capo, &Hand::default(), &written("x x x 1/1 6/4 x")), []);
    }

    #[test]
    fn the_string_of_a_natural_harmonic_is_free() {
        fine("x x <12>/4 x 0 0");
        // Once it sounds it needs no finger, and its string still has to be free.
        fine("x x <12> 3/1 x x");
        refused(
            "x 2/1 <12> 2/1 x x",
            "finger 1 at fret 2 lies over string 4, which sounds a natural harmonic",
        );
        refused(
            "x 9/1 <12>/4 9/1 x x",
            "finger 1 at fret 9 lies over string 4, which sounds a natural harmonic",
        );
        // An artificial one is stopped like any note.
        fine("x 2/1 2<14>/1 2/1 x x");
        fine("x 2/1 4<16>/3 2/1 x x");
    }

    #[test]
    fn a_finger_touches_in_a_line_and_presses_nothing_meanwhile() {
        fine("x x <12>/4 <12>/4 <12>/4 x");
        refused(
            "x x x x 12/4 <12>/4",
            "finger 4 presses string 2, fret 12 and touches string 1, fret 12 at once",
        );
        refused("x x <12>/1 0 <12>/1 x", "the barre of finger 1 at fret 12 lies over string 3 open");
        refused("x x <5>/1 x x <12>/1", "finger 1 is on string 1, fret 12 and on string 4, fret 5 at once");
    }

    #[test]
    fn touching_fingers_reach_as_far_as_pressing_ones() {
        refused(
            "x x x 5/1 x <12>/4",
            "fingers 1 and 4 are 165.2 mm apart, farther than the 137.5 mm they reach",
        );
        fine("x x x 8/1 x <12>/4");
    }

    fn any_finger() -> impl Strategy<Value = Finger> {
        (1_u8..=4).prop_map(|number| Finger::from_number(number).unwrap())
    }

    proptest! {
        #[test]
        fn six_frets_for_four_fingers_are_refused(
            first in 1_u8..6,
            frets in Just([0_u8, 1, 2, 3, 4, 5]).prop_shuffle(),
            fingers in prop::collection::vec(any_finger(), 6),
        ) {
            let holds = StringIndex::all(6)
                .zip(frets.into_iter().zip(fingers))
                .map(|(string, (fret, finger))| (string, Hold::stopped(Fret::new(first + fret), finger)));
            let nonsense = Grip::from_holds(holds);
            prop_assert!(!grip(&Instrument::classical(), &Hand::default(), &nonsense).is_empty());
        }

        #[test]
        fn stretches_of_170_millimetres_are_refused(
            low in 1_u8..8,
            strings in (0_usize..6, 0_usize..6),
            fingers in (any_finger(), any_finger()),
        ) {
            prop_assume!(strings.0 != strings.1);
            let guitar = Instrument::classical();
            let far = (low..=guitar.last_fret().number())
                .map(Fret::new)
                .find(|f| (guitar.press_point(*f) - guitar.press_point(Fret::new(low))).count() >= 170_000);
            let nonsense = Grip::from_holds([
                (StringIndex::new(strings.0), Hold::stopped(Fret::new(low), fingers.0)),
                (StringIndex::new(strings.1), Hold::stopped(far.unwrap(), fingers.1)),
            ]);
            let large = Hand { size: crate::hand::HandSize::Large, ..Hand::default() };
            prop_assert!(!grip(&guitar, &large, &nonsense).is_empty());
        }

        #[test]
        fn barres_over_an_open_string_are_refused(
            fret in 1_u8..12,
            open in 1_usize..5,
            reach in (1_usize..5, 1_usize..5),
            finger in any_finger(),
        ) {
            let outer = [open.saturating_sub(reach.0), (open + reach.1).min(5)];
            let holds = outer.map(|s| (StringIndex::new(s), Hold::stopped(Fret::new(fret), finger)));
            let mut nonsense = Grip::from_holds(holds);
            nonsense.set(StringIndex::new(open), Some(Hold::OPEN));
            prop_assert!(!grip(&Instrument::classical(), &Hand::default(), &nonsense).is_empty());
        }

        #[test]
        fn fingers_in_two_places_are_refused(
            frets in (1_u8..19, 1_u8..19),
            strings in (0_usize..6, 0_usize..6),
            finger in any_finger(),
        ) {
            prop_assume!(strings.0 != strings.1 && frets.0 != frets.1);
            let nonsense = Grip::from_holds([
                (StringIndex::new(strings.0), Hold::stopped(Fret::new(frets.0), finger)),
                (StringIndex::new(strings.1), Hold::stopped(Fret::new(frets.1), finger)),
            ]);
            prop_assert!(!grip(&Instrument::classical(), &Hand::default(), &nonsense).is_empty());
        }
    }
}
