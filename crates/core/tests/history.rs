//! Undo and redo against the simplest model there is: a list of works and a place in it.

use std::sync::Arc;

use handspan_core::arrangement::{Edit, History, Work};
use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::{Finger, Hand, HandSize};
use handspan_core::harmony::Key;
use handspan_core::neck::{Fret, Instrument, StringIndex, Tuning};
use handspan_core::pitch::{Interval, PitchClass};
use handspan_core::plan::{Aim, Lie, Plan};
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, MelodyNote, Tune, TuneParts};
use proptest::prelude::*;

const BAR: i64 = 4;

fn work() -> Work {
    let written = SpelledPitch { spelling: Spelling::new(Step::E, 0), octave: 5 };
    let note = |bar: i64| MelodyNote {
        at: Ticks::QUARTER * (BAR * bar),
        length: Ticks::QUARTER * BAR,
        written,
        tied_in: false,
        tied_out: false,
    };
    let bar = |n: i64| Bar::plain((n + 1).to_string(), Ticks::QUARTER * BAR, Metre::COMMON, Key::default());
    let tune = Tune::try_new(TuneParts {
        bars: (0..4).map(bar).collect(),
        melody: (0..4).map(note).collect(),
        ..TuneParts::default()
    });
    Work { tune: Arc::new(tune.expect("four bars with a note each are a tune")), plan: Plan::default() }
}

fn grip(fret: u8) -> Grip {
    Grip::from_holds([(StringIndex::new(0), Hold::stopped(Fret::new(fret), Finger::Index))])
}

fn edits() -> impl Strategy<Value = Edit> {
    let at = || (0_i64..4).prop_map(|bar| Ticks::QUARTER * (BAR * bar));
    let passage = || {
        (0_i64..4, 1_i64..3).prop_map(|(a, n)| Ticks::QUARTER * (BAR * a)..Ticks::QUARTER * (BAR * (a + n)))
    };
    let string = prop::option::of((0_usize..3).prop_map(StringIndex::new));
    let bass = prop::option::of((0_i32..3).prop_map(|c| BassChoice::Class(PitchClass::from_semitones(c))));
    prop_oneof![
        (at(), string).prop_map(|(at, string)| Edit::MelodyString { at, string }),
        (at(), bass).prop_map(|(at, bass)| Edit::Bass { at, bass }),
        (at(), prop::option::of((1_u8..4).prop_map(grip))).prop_map(|(at, grip)| Edit::Grip { at, grip }),
        (passage(), 1_u8..4).prop_map(|(passage, fret)| Edit::TakePassage {
            grips: vec![(passage.start, grip(fret))],
            passage
        }),
        passage().prop_map(|passage| Edit::ReleasePassage { passage }),
        (-2_i16..3).prop_map(|n| Edit::Transpose(Interval::new(n))),
        (0_u8..3).prop_map(|capo| Edit::Instrument(guitar(capo))),
        (-2_i16..3, 0_u8..3).prop_map(|(n, capo)| Edit::Lie(lie(n, capo))),
        prop::bool::ANY.prop_map(|thumb| Edit::Hand(Hand { thumb, ..Hand::default() })),
        prop::sample::select(vec![Aim::LeastTotal, Aim::Gentlest]).prop_map(Edit::Aim),
    ]
}

fn guitar(capo: u8) -> Instrument {
    Instrument::try_new(Tuning::standard(), 19, Instrument::CLASSICAL_SCALE, capo).expect("a guitar")
}

fn lie(semitones: i16, capo: u8) -> Lie {
    Lie { transpose: Interval::new(semitones), instrument: guitar(capo) }
}

#[derive(Clone, Debug)]
enum Act {
    Apply(Edit),
    Undo,
    Redo,
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![4 => edits().prop_map(Act::Apply), 3 => Just(Act::Undo), 2 => Just(Act::Redo)];
    prop::collection::vec(act, 0..220)
}

proptest! {
    #[test]
    fn undo_and_redo_walk_along_a_list(acts in acts()) {
        let mut history = History::new(work());
        let mut list = vec![work()];
        let mut here = 0;
        for act in acts {
            let moved = match act {
                Act::Apply(edit) => {
                    let mut next = list[here].clone();
                    edit.apply(&mut next);
                    let changed = next != list[here];
                    if changed {
                        list.truncate(here + 1);
                        list.push(next);
                        here += 1;
                    }
                    prop_assert_eq!(history.apply(&edit), changed);
                    continue;
                }
                Act::Undo if here > 0 => { here -= 1; history.undo() }
                Act::Redo if here + 1 < list.len() => { here += 1; history.redo() }
                Act::Undo => !history.undo(),
                Act::Redo => !history.redo(),
            };
            prop_assert!(moved);
            prop_assert_eq!(&**history.work(), &list[here]);
            prop_assert_eq!(history.undo_name().is_some(), here > 0);
            prop_assert_eq!(history.redo_name().is_some(), here + 1 < list.len());
        }
    }
}

#[test]
fn a_hundred_steps_are_kept() {
    let mut history = History::new(work());
    for n in 0..150 {
        let grip = Some(grip(n % 2 + 1));
        assert!(history.apply(&Edit::Grip { at: Ticks::ZERO, grip }));
    }
    assert_eq!(std::iter::from_fn(|| history.undo().then_some(())).count(), 100);
}

#[test]
fn a_gesture_is_one_step() {
    let reach = |mm: i32| {
        Edit::Hand(Hand {
            size: HandSize::Measured(handspan_core::neck::geometry::Micrometres::new(mm * 1000)),
            ..Hand::default()
        })
    };
    let mut history = History::new(work());
    for mm in [120, 121, 125] {
        assert!(history.apply_in_gesture(reach(mm)));
    }
    history.close_gesture();
    assert!(history.apply_in_gesture(reach(130)));
    assert!(history.undo());
    assert_eq!(history.work().plan.hand, hand_of(&reach(125)));
    assert!(history.undo());
    assert_eq!(**history.work(), work());
    assert!(!history.undo());
}

fn hand_of(edit: &Edit) -> Hand {
    let mut work = work();
    edit.apply(&mut work);
    work.plan.hand
}

#[test]
fn steps_are_named_by_bar_and_beat() {
    let tune = work().tune;
    let at = Ticks::QUARTER * 5;
    let name = |edit: Edit| edit.label(&tune);
    assert_eq!(name(Edit::Grip { at, grip: Some(grip(3)) }), "Lock the grip in bar 2, beat 2");
    assert_eq!(name(Edit::Bass { at, bass: None }), "Release the bass in bar 2, beat 2");
    let passage = Ticks::QUARTER * 4..Ticks::QUARTER * 12;
    assert_eq!(name(Edit::ReleasePassage { passage }), "Release the locks of bars 2 to 3");
    assert_eq!(name(Edit::Transpose(Interval::new(-3))), "Play the tune 3 semitones lower");
    assert_eq!(name(Edit::Aim(Aim::Gentlest)), "Look for the gentlest hardest move");
    assert_eq!(name(Edit::Instrument(guitar(2))), "Tune to standard, capo at fret 2");
    assert_eq!(name(Edit::Lie(lie(-2, 3))), "Play in B♭ major, standard, capo at fret 3");
}

#[test]
fn locks_do_not_outlive_their_pitches() {
    let mut work = work();
    Edit::Grip { at: Ticks::ZERO, grip: Some(grip(3)) }.apply(&mut work);
    let bass = Some(BassChoice::Class(PitchClass::from_semitones(0)));
    Edit::Bass { at: Ticks::ZERO, bass }.apply(&mut work);
    Edit::Transpose(Interval::new(2)).apply(&mut work);
    let lock = work.plan.locks.at(Ticks::ZERO);
    assert_eq!(lock.grip, None);
    assert_eq!(lock.bass, Some(BassChoice::Class(PitchClass::from_semitones(2))));
}
