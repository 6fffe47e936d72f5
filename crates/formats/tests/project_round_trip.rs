//! Random works, written as project files and read back, are the same works; what can't be read is a sentence.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]

mod common;

use std::sync::Arc;

use handspan_core::arrangement::Work;
use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::{Finger, Hand, HandSize};
use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Fret, Instrument, StringIndex};
use handspan_core::pitch::{Interval, Pitch, PitchClass};
use handspan_core::plan::{Aim, Lock, Locks, Plan};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::Ticks;
use handspan_core::tune::{Line, LineNote, Tune, TuneParts};
use handspan_formats::{ReadError, project};
use proptest::prelude::*;

fn hand() -> impl Strategy<Value = Hand> {
    let measured = (80_000..200_000_i32).prop_map(|reach| HandSize::Measured(Micrometres::new(reach)));
    let size = prop_oneof![Just(HandSize::Small), Just(HandSize::Medium), Just(HandSize::Large), measured];
    (size, any::<bool>(), any::<bool>()).prop_map(|(size, thumb, little_plucks)| Hand {
        size,
        thumb,
        little_plucks,
    })
}

fn bass() -> impl Strategy<Value = BassChoice> {
    prop_oneof![
        Just(BassChoice::Free),
        (0..12_i32).prop_map(|class| BassChoice::Class(PitchClass::from_semitones(class))),
        (0..128_i32).prop_map(|midi| BassChoice::Exact(Pitch::try_new(midi).unwrap())),
    ]
}

fn grip() -> impl Strategy<Value = Grip> {
    let hold = prop_oneof![
        Just(Hold::OPEN),
        (1..18_u8, 0..5_usize).prop_map(|(fret, finger)| {
            let digits = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];
            Hold::stopped(Fret::new(fret), digits[finger])
        }),
    ];
    prop::collection::vec(prop::option::of(hold), 6).prop_map(|holds| {
        let strings = StringIndex::all(6);
        Grip::from_holds(strings.zip(holds).filter_map(|(string, hold)| Some((string, hold?))))
    })
}

fn lock() -> impl Strategy<Value = Lock> {
    let melody = prop::option::of((0..6_usize).prop_map(StringIndex::new));
    (melody, prop::option::of(bass()), prop::option::of(grip())).prop_map(|(melody, bass, grip)| Lock {
        melody,
        bass,
        grip,
    })
}

/// The tune with bass line and hooks: notes of these pitches, each in its share of the tune's time.
fn with_lines(tune: &Tune, drawn: &[(Line, u8)]) -> Arc<Tune> {
    let length = Ticks::new(tune.end().count() / (drawn.len() as i64 + 1));
    let note = |(index, (line, midi)): (i64, &(Line, u8))| {
        let pitch = Pitch::new(*midi);
        let written = SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), i32::from(*midi) % 5));
        LineNote { at: length * index, length, written, line: *line }
    };
    let lines = (0..).zip(drawn).map(note).collect();
    Arc::new(Tune::try_new(TuneParts { lines, ..tune.clone().into_parts() }).unwrap())
}

prop_compose! {
    fn work()(
        score in common::score(),
        hand in hand(),
        instrument in common::instrument(),
        transpose in -12..13_i16,
        aim in prop::sample::select(vec![Aim::LeastTotal, Aim::Gentlest]),
        lines in prop::collection::vec((prop::sample::select(Line::ALL.to_vec()), 20..100_u8), 0..9),
        drawn in prop::collection::vec((any::<prop::sample::Index>(), lock()), 0..8),
    ) -> Work {
        let mut locks = Locks::default();
        for (at, lock) in drawn {
            locks.set(Ticks::new(at.index(score.tune.end().count() as usize) as i64), lock);
        }
        Work {
            tune: with_lines(&score.tune, &lines),
            plan: Plan { instrument, hand, transpose: Interval::new(transpose), aim, locks },
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_saved_is_read_back(work in work()) {
        let text = project::write(&work);
        let read = project::read(text.as_bytes());
        prop_assert_eq!(read.map(|imported| imported.value), Ok(work));
    }

    #[test]
    fn a_damaged_file_never_panics(work in work(), at in any::<prop::sample::Index>(), byte in any::<u8>()) {
        // A file that lacks nothing but the last line's end is whole.
        let mut bytes = project::write(&work).trim_end().as_bytes().to_vec();
        let at = at.index(bytes.len());
        bytes[at] = byte;
        if let Err(error) = project::read(&bytes) {
            prop_assert!(!error.to_string().is_empty());
        }
        prop_assert!(project::read(&bytes[..at]).is_err());
    }
}

/// A small project as text.
fn sample() -> String {
    let tune = "(title: \"Small\", composer: \"\", bars: [(number: \"1\", length: 80640, metre: \"4/4\", fifths: 0, \
                mode: Major)], melody: [(at: 0, length: 20160, pitch: \"C5\")], chords: [(at: 0, root: \"C\", kind: \
                \"major-seventh\"), (at: 40320)], tempi: [(at: 0, quarters_a_minute: 90)])";
    let plan = "(instrument: (tuning: \"standard\", strings: [\"E2\", \"A2\", \"D3\", \"G3\", \"B3\", \"E4\"], frets: \
                19, scale_micrometres: 650000, capo: 0), hand: (size: Medium, thumb: false, little_plucks: false), \
                transpose: 0, locks: [(bar: 1, ticks: 0, bass: \"C3\", grip: (frets: \"x32010\", fingers: \
                \"x32010\"))])";
    format!("Project(version: 1, tune: {tune}, plan: {plan})")
}

#[test]
fn a_file_of_version_1_is_read() {
    let work = project::read(sample().as_bytes()).unwrap().value;
    assert_eq!(work.tune.title(), "Small");
    assert_eq!(work.plan.instrument, Instrument::classical());
    assert_eq!(work.plan.aim, Aim::LeastTotal);
    let lock = work.plan.locks.at(Ticks::ZERO);
    assert_eq!(lock.bass, Some(BassChoice::Exact(Pitch::new(48))));
    assert_eq!(lock.grip.unwrap().len(), 5);
    assert_eq!(project::read(project::write(&work).as_bytes()).unwrap().value, work);
}

#[test]
fn a_newer_file_is_refused_as_newer() {
    let newer = "Project(version: 7, sections: [], tune: ())";
    assert_eq!(project::read(newer.as_bytes()), Err(ReadError::Newer { found: 7, known: 1 }));
}

#[test]
fn what_cannot_be_is_named_with_its_place() {
    let check = |from: &str, to: &str, expected: &str| {
        let changed = sample().replace(from, to);
        assert_ne!(changed, sample(), "{from} is in the sample");
        let message = project::read(changed.as_bytes()).unwrap_err().to_string();
        assert!(message.contains(expected), "{message}");
    };
    check("4/4", "4/3", "“4/3” is no metre (bar 1)");
    check("\"C5\"", "\"H5\"", "“H5” is no note (melody at 0 ticks)");
    check("major-seventh", "banana", "“banana” is no kind of chord (chord at 0 ticks)");
    check(
        "tempi: [",
        "lines: [(line: Bass, at: 9, length: 9, pitch: \"X\")], tempi: [",
        "“X” is no note (bass line at 9 ticks)",
    );
    check("length: 20160", "length: 99999999999999", "99999999999999 ticks are no time in a tune");
    check("at: 40320", "at: 80640", "the tune goes on after its last bar");
    check("capo: 0", "capo: 18", "a capo at fret 18 leaves too little neck");
    check("bar: 1,", "bar: 3,", "a lock is in bar 3 of 1");
    check("fingers: \"x32010\"", "fingers: \"x3201\"", "frets x32010 under fingers x3201 are no grip");
}

#[test]
fn text_that_is_no_project_is_named_with_line_and_column() {
    let message = project::read(b"Project(\n  version: 1,\n  tune: oops").unwrap_err().to_string();
    assert!(message.starts_with("line 3, column"), "{message}");
    assert!(project::read(b"").is_err());
    assert!(project::read(b"\xFF\xFE").is_err());
    assert!(project::read("(".repeat(100_000).as_bytes()).is_err());
}
