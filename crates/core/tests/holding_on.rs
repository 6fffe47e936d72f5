//! Holding on to notes saves no more in the next move, nor in the one after, than the bound says, whatever hands hold and
//! wherever they go, at any pace, under the program's own weights and others.

use handspan_core::grip::fingering::Held;
use handspan_core::grip::moves::{HandAt, Pace};
use handspan_core::grip::weights::{Table, Weights};
use handspan_core::grip::{Grip, Hold, HoldingOn, Reach};
use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::{Fret, Instrument, StringIndex};
use proptest::prelude::*;

type Note = (StringIndex, Hold);

fn open() -> impl Strategy<Value = Note> {
    (0..6_usize).prop_map(|string| (StringIndex::new(string), Hold::OPEN))
}

fn note() -> impl Strategy<Value = Note> {
    let stopped = (0..6_usize, 1..=14_u8, 0..5_usize).prop_map(|(string, fret, finger)| {
        (StringIndex::new(string), Hold::stopped(Fret::new(fret), Finger::ALL[finger]))
    });
    prop_oneof![1 => open(), 4 => stopped]
}

/// The program's own weights, or others not far from them, some of which no hand would agree with.
fn weights() -> impl Strategy<Value = Weights> {
    let entries: usize = Table::ALL.iter().map(|table| table.len()).sum();
    let others = proptest::collection::vec(-9..=9_i32, entries).prop_map(|changes| {
        let changed = |(own, change): (&i32, i32)| own + change.max(-own.abs());
        let points: Vec<i32> = Weights::OWN.points().iter().zip(changes).map(changed).collect();
        Weights::from_points(&points)
    });
    prop_oneof![Just(Weights::OWN), others]
}

/// As many of these notes as a hand can hold, the first ones first.
fn holdable(reach: &Reach, notes: &[Note]) -> Grip {
    let mut held = Held::nothing(reach);
    let mut grip = Grip::SILENT;
    for (string, hold) in notes {
        let thumb = hold.finger() == Some(Finger::Thumb) && !reach.thumb_may_hold(*string);
        if !thumb && held.takes(*string, *hold) {
            held.take(*string, *hold);
            grip.set(*string, Some(*hold));
        }
    }
    grip
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn a_hand_that_holds_on_saves_no_more_than_the_bound(
        notes in proptest::collection::vec(note(), 2..7),
        next in prop_oneof![proptest::collection::vec(note(), 0..6), proptest::collection::vec(open(), 0..6)],
        later in proptest::collection::vec(note(), 1..4),
        milliseconds in (60..1_200_i64, 60..1_200_i64),
        weights in weights(),
    ) {
        let reach = Reach::weighing(&Instrument::classical(), &Hand { thumb: true, ..Hand::default() }, weights);
        let pace = Pace::new(&reach, milliseconds.0);
        let Some(holding_on) = HoldingOn::at(&reach, &pace) else { return Ok(()) };
        let whole = holdable(&reach, &notes);
        let (string, hold) = notes[0];
        if whole.hold(string) != Some(hold) {
            // A thumb where none can be.
            return Ok(());
        }
        let full = HandAt::holding(&reach, &whole);
        // Where no finger stops the melody note, the hand stands where it stood.
        let bare = HandAt::holding(&reach, &Grip::from_holds([(string, hold)])).coming_from(full.position());
        let next = HandAt::holding(&reach, &holdable(&reach, &next));
        let mut saved = pace.total(&bare, &next) - pace.total(&full, &next);
        // Over open strings each of them stays where it was.
        let [barely, fully] = [bare, full].map(|hand| next.coming_from(hand.position()));
        let (later, pace) = (HandAt::holding(&reach, &holdable(&reach, &later)), Pace::new(&reach, milliseconds.1));
        saved += pace.total(&barely, &later) - pace.total(&fully, &later);
        let most = holding_on.most(&bare, &full);
        prop_assert!(saved <= most, "{saved} is more than {most}");
    }
}
