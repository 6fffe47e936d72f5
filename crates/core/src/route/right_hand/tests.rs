//! The search against every assignment of fingers to short tunes, and the rules one by one.

use itertools::Itertools as _;
use proptest::prelude::*;

use super::*;
use crate::hand::RightFinger;

const STRINGS: usize = 6;

fn hand(little_plucks: bool) -> Hand {
    Hand { little_plucks, ..Hand::default() }
}

fn set(numbers: &[usize]) -> StringSet {
    numbers.iter().map(|number| StringIndex::new(number - 1)).collect()
}

fn stroke(numbers: &[usize], milliseconds: i64) -> Stroke {
    Stroke { struck: set(numbers), milliseconds, ..Stroke::default() }
}

/// The cost of fingers for a whole tune, added up anew.
fn cost(strokes: &[Stroke], plucks: &[Plucks]) -> i64 {
    let own = strokes.iter().zip(plucks).map(|(stroke, plucks)| alone(plucks, stroke.bass, STRINGS));
    let pairs = plucks.iter().zip(plucks.iter().skip(1)).zip(strokes.iter().skip(1));
    let moves = pairs.map(|((old, new), stroke)| after(old, new, stroke.milliseconds));
    let threes = (2..plucks.len()).map(|third| {
        let fast = strokes[third - 1].milliseconds.max(strokes[third].milliseconds) < cost::FAST;
        i64::from(fast) * pattern(&plucks[third - 2], &plucks[third - 1], &plucks[third])
    });
    own.sum::<i64>() + moves.sum::<i64>() + threes.sum::<i64>()
}

fn strokes() -> impl Strategy<Value = Vec<Stroke>> {
    let milliseconds = prop::sample::select(vec![120_i64, 300, 349, 350, 900]);
    let one = (1_u8..64, milliseconds, any::<(bool, bool, bool)>()).prop_map(
        |(bits, milliseconds, (has_bass, touched, tapped))| {
            let struck: StringSet =
                (0..STRINGS).filter(|i| bits & (1 << i) != 0).map(StringIndex::new).collect();
            let bass = struck.iter().next_back().filter(|_| has_bass);
            Stroke { struck, bass, touched, tapped, milliseconds, printed: Vec::new() }
        },
    );
    prop::collection::vec(one, 1..5)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_cheaper_than_what_is_found(strokes in strokes(), little in any::<bool>()) {
        let hand = hand(little);
        let found = right_hand(&hand, STRINGS, &strokes);
        let all = strokes.iter().map(|stroke| ways(&hand, stroke)).multi_cartesian_product();
        let least = all.map(|plucks| cost(&strokes, &plucks)).min();
        prop_assert_eq!(Some(cost(&strokes, &found)), least);
    }
}

fn letters(plucks: &[Plucks]) -> String {
    plucks.iter().map(|p| p.fingers.iter().map(|(_, f)| f.letter()).collect::<String>()).join(" ")
}

#[test]
fn a_fast_scale_alternates() {
    let scale: Vec<Stroke> = [3, 3, 2, 2, 2, 1, 1].iter().map(|string| stroke(&[*string], 150)).collect();
    let found = letters(&right_hand(&hand(false), STRINGS, &scale));
    let fingers: Vec<&str> = found.split(' ').collect();
    assert!(fingers.iter().tuple_windows().all(|(a, b)| a != b), "{found}");
    assert!(!found.contains("a m a"), "{found}");
}

#[test]
fn a_slow_line_on_one_string_takes_turns() {
    for string in 1..=3 {
        let line: Vec<Stroke> = (0..6).map(|_| stroke(&[string], 800)).collect();
        let found = letters(&right_hand(&hand(false), STRINGS, &line));
        assert!(found == "i m i m i m" || found == "m i m i m i", "string {string}: {found}");
    }
}

#[test]
fn the_thumb_plucks_the_bass_and_may_brush() {
    let plucks = |strings: &[usize]| letters(&right_hand(&hand(false), STRINGS, &[stroke(strings, 500)]));
    assert_eq!(plucks(&[6, 3, 2, 1]), "pima");
    assert_eq!(plucks(&[6, 5, 3, 2, 1]), "ppima");
    assert_eq!(plucks(&[6, 5, 4, 3, 2, 1]), "pppima");
    assert!(!can_pluck(&hand(false), set(&[6, 4, 3, 2, 1])));
    assert!(can_pluck(&hand(true), set(&[6, 4, 3, 2, 1])));
    assert!(can_pluck(&hand(false), StringSet::EMPTY));
}

#[test]
fn a_thumb_that_taps_plucks_nothing() {
    let plucks = |strings: &[usize]| {
        letters(&right_hand(&hand(false), STRINGS, &[Stroke { tapped: true, ..stroke(strings, 500) }]))
    };
    assert_eq!(plucks(&[6, 2, 1]), "ima");
    assert!(can_tap(&hand(false), &stroke(&[6, 2, 1], 500)));
    assert!(!can_tap(&hand(false), &stroke(&[6, 3, 2, 1], 500)));
    assert!(!can_tap(&hand(false), &stroke(&[6, 5, 4, 3, 2, 1], 500)));
}

#[test]
fn fingers_go_on_where_the_lower_voice_climbs_to_the_treble() {
    let climb = [5, 3, 2]
        .map(|string: usize| Stroke { bass: Some(StringIndex::new(string - 1)), ..stroke(&[string], 700) });
    assert_eq!(letters(&right_hand(&hand(false), STRINGS, &climb)), "p i m");
    // Four neighbouring strings are plucked, not brushed.
    assert_eq!(letters(&right_hand(&hand(false), STRINGS, &[stroke(&[5, 4, 3, 2], 500)])), "pima");
}

#[test]
fn printed_letters_are_kept_where_a_hand_can() {
    let printed = |letter| Stroke {
        printed: vec![(StringIndex::new(0), RightFinger::from_letter(letter).unwrap())],
        ..stroke(&[1, 6], 500)
    };
    assert_eq!(letters(&right_hand(&hand(false), STRINGS, &[printed('i')])), "pi");
    // No hand plucks the highest string with the thumb and a lower one with a finger.
    assert_eq!(letters(&right_hand(&hand(false), STRINGS, &[printed('p')])).len(), 2);
}
