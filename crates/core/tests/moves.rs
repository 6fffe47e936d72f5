//! What a pace works out beforehand equals the plain statement of a move, and so do tables of moves taken apart, whose
//! bounds are none too high, for any hands and any weights.

use handspan_core::grip::moves::{HandAt, Pace, move_effort};
use handspan_core::grip::weights::{Table, Weights};
use handspan_core::grip::{Departures, Fares, Grip, Hold, Reach};
use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::{Fret, Instrument, StringIndex};
use proptest::prelude::*;

fn holds() -> impl Strategy<Value = Option<Hold>> {
    let finger = prop_oneof![Just(Finger::Thumb), (1..=4_u8).prop_map(|n| Finger::FOUR[usize::from(n) - 1])];
    prop_oneof![
        3 => Just(None),
        1 => Just(Some(Hold::OPEN)),
        4 => (1..=7_u8, finger.clone()).prop_map(|(fret, finger)| Some(Hold::stopped(Fret::new(fret), finger))),
        1 => (1..=19_u8, finger).prop_map(|(fret, finger)| Some(Hold::stopped(Fret::new(fret), finger))),
    ]
}

/// Any grip, whether a hand can hold it or not: bounds must not rest on that.
fn any_grip() -> impl Strategy<Value = Grip> {
    proptest::collection::vec(holds(), 6).prop_map(|holds| {
        let strings = StringIndex::all(6).zip(holds);
        Grip::from_holds(strings.filter_map(|(string, hold)| Some((string, hold?))))
    })
}

/// The program's own weights, or others that nobody would set.
fn any_weights() -> impl Strategy<Value = Weights> {
    let entries: usize = Table::ALL.iter().map(|table| table.len()).sum();
    let wild = proptest::collection::vec(-40..40_i32, entries).prop_map(|points| {
        let mut weights = Weights::OWN;
        let mut points = points.into_iter();
        for table in Table::ALL {
            for entry in 0..table.len() {
                weights.set(table, entry, points.next().unwrap_or(0));
            }
        }
        weights
    });
    prop_oneof![Just(Weights::OWN), wild]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    #[test]
    fn a_pace_tells_the_same_in_sum_and_term_by_term(
        from in any_grip(),
        next in any_grip(),
        weights in any_weights(),
        came in came(),
        milliseconds in 0..3_000_i64,
    ) {
        let reach = Reach::weighing(&Instrument::classical(), &Hand::default(), weights);
        let (from, next) = (HandAt::holding(&reach, &from).coming_from(came), HandAt::holding(&reach, &next));
        let pace = Pace::new(&reach, milliseconds);
        prop_assert_eq!(pace.total(&from, &next), pace.effort(&from, &next).total().points());
        prop_assert_eq!(pace.effort(&from, &next), move_effort(&reach, &from, &next, milliseconds));
    }

    #[test]
    fn moves_taken_apart_cost_the_same_and_their_bounds_hold(
        before in proptest::collection::vec((any_grip(), came()), 1..12),
        others in proptest::collection::vec((any_grip(), came()), 1..12),
        after in proptest::collection::vec(any_grip(), 1..12),
        weights in any_weights(),
        milliseconds in 0..3_000_i64,
    ) {
        let reach = Reach::weighing(&Instrument::classical(), &Hand::default(), weights);
        let pace = Pace::new(&reach, milliseconds);
        let hands = |all: &[(Grip, Option<Fret>)]| -> Vec<HandAt> {
            all.iter().map(|(grip, came)| HandAt::holding(&reach, grip).coming_from(*came)).collect()
        };
        let (mut departures, mut fares) = (Departures::default(), Fares::default());
        // What is known of other hands must not show.
        for before in [hands(&others), hands(&before)] {
            departures.set_out(before.iter().copied());
            fares.clear();
            for next in after.iter().map(|grip| HandAt::holding(&reach, grip)) {
                let towards = fares.towards(&departures, &pace, &next);
                let least = fares.least(&departures, &pace, &towards);
                let least_of_any = fares.least_of_any(&departures, &pace, &next);
                for (number, from) in before.iter().enumerate() {
                    let total = fares.total(number, &pace, &towards);
                    prop_assert_eq!(total, pace.total(from, &next));
                    let group = departures.group(number);
                    for bound in [least[group], least_of_any[group], pace.least(&next)] {
                        prop_assert!(bound <= total, "{bound} is more than {total}");
                    }
                }
            }
        }
    }
}

/// Where a hand with no finger down stood last.
fn came() -> impl Strategy<Value = Option<Fret>> {
    (0..12_u8).prop_map(|fret| Some(Fret::new(fret)).filter(|fret| !fret.is_open()))
}
