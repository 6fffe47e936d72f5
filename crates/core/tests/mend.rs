//! Mending a tune: what each change does, what is refused, and that a tune holds together whatever is done to it.

use std::sync::Arc;

use handspan_core::arrangement::{Edit, History, Impossible, Work, arrange};
use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::Finger;
use handspan_core::harmony::{ChordSymbol, Key, Mode};
use handspan_core::neck::{Fret, StringIndex};
use handspan_core::pitch::PitchClass;
use handspan_core::plan::{Lock, Plan};
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::mend::melody::{along_scale, by_semitones, nearest};
use handspan_core::tune::{Bar, ChordAt, Line, MelodyNote, Mend, Tune, TuneParts};
use handspan_core::watch::Unwatched;
use proptest::prelude::*;

fn q(quarters: i64) -> Ticks {
    Ticks::QUARTER * quarters
}

fn spelled(text: &str) -> SpelledPitch {
    let (spelling, octave) = Spelling::read(text).expect("a note");
    SpelledPitch { spelling, octave: octave.parse().expect("an octave") }
}

fn chord(text: &str) -> ChordSymbol {
    ChordSymbol::parse(text).expect("a chord symbol")
}

/// Four bars of 4/4 in C, a half note at the beginning and in the middle of each, `C` over the first and `G7` over the
/// third bar.
fn tune() -> Tune {
    let note = |half: i64| MelodyNote {
        at: q(2 * half),
        length: q(2),
        written: spelled(["E5", "D5"][(half % 2) as usize]),
        tied_in: false,
        tied_out: false,
    };
    Tune::try_new(TuneParts {
        bars: (1..=4).map(|n| Bar::plain(n.to_string(), q(4), Metre::COMMON, Key::default())).collect(),
        melody: (0..8).map(note).collect(),
        chords: vec![ChordAt { at: q(0), symbol: chord("C") }, ChordAt { at: q(8), symbol: chord("G7") }],
        ..TuneParts::default()
    })
    .expect("four bars are a tune")
}

/// The melody as text: `0+2 E5`, in quarter notes.
fn melody(tune: &Tune) -> String {
    let note = |n: &MelodyNote| format!("{}+{} {}", n.at, n.length, n.written);
    tune.melody().iter().map(note).collect::<Vec<_>>().join(", ")
}

fn chords(tune: &Tune) -> String {
    tune.chords().iter().map(|c| format!("{} {}", c.at, c.symbol)).collect::<Vec<_>>().join(", ")
}

fn mended(mend: &Mend) -> Tune {
    mend.apply(&tune()).unwrap_or_else(|fault| panic!("{mend:?}: {fault}"))
}

fn refusal(mend: &Mend) -> String {
    mend.apply(&tune()).expect_err("a refusal").to_string()
}

#[test]
fn a_note_that_is_written_makes_room_for_itself() {
    let write = |at, length| mended(&Mend::Note { at, length, written: spelled("F#5") });
    assert!(melody(&write(q(1), q(2))).starts_with("0+1 E5, 1+2 F#5, 4+2 E5"));
    assert!(melody(&write(q(0), q(1))).starts_with("0+1 F#5, 2+2 D5"));
    let over = Mend::Note { at: q(15), length: q(2), written: spelled("E5") };
    assert_eq!(
        refusal(&over),
        "a note so long in bar 4, beat 4 would end after the last bar; add a bar, or choose a shorter one"
    );
    let behind = Mend::Note { at: q(16), length: q(1), written: spelled("E5") };
    assert_eq!(refusal(&behind), "the tune ends before that; add a bar first");
}

#[test]
fn a_passage_becomes_silent() {
    assert!(melody(&mended(&Mend::Silence(q(1)..q(4)))).starts_with("0+1 E5, 4+2 E5"));
    let all = mended(&Mend::Silence(q(0)..q(16)));
    assert!(all.melody().is_empty());
    let work = Work { tune: Arc::new(all), plan: Plan::default() };
    assert_eq!(arrange(&work, &Unwatched).unwrap_err(), Impossible::NoMelody);
}

#[test]
fn pitch_and_length_of_a_note_are_corrected() {
    let pitch = mended(&Mend::Pitch { at: q(2), written: spelled("Eb5") });
    assert!(melody(&pitch).starts_with("0+2 E5, 2+2 Eb5"));
    assert!(melody(&mended(&Mend::Length { at: q(2), length: q(1) })).starts_with("0+2 E5, 2+1 D5, 4+2"));
    let long = refusal(&Mend::Length { at: q(2), length: q(3) });
    assert_eq!(long, "the note can't last so long: the next one begins in bar 2, beat 1");
    let nowhere = refusal(&Mend::Pitch { at: q(1), written: spelled("E5") });
    assert_eq!(nowhere, "no melody note begins in bar 1, beat 2");
}

#[test]
fn chord_symbols_are_set_and_taken_away() {
    let set = |at, symbol: Option<&str>| mended(&Mend::Chord { at, symbol: symbol.map(chord) });
    assert_eq!(chords(&set(q(8), Some("Dm7"))), "0 C, 8 Dm7");
    assert_eq!(chords(&set(q(6), Some("A7"))), "0 C, 6 A7, 8 G7");
    assert_eq!(chords(&set(q(8), None)), "0 C");
}

#[test]
fn a_key_respells_what_it_can_not_read() {
    let sharp = Mend::Pitch { at: q(0), written: spelled("D#5") }.apply(&tune()).unwrap();
    let in_key = |fifths| {
        let key = Key::try_new(fifths, Mode::Major).unwrap();
        Mend::Key { bar: 0, key }.apply(&sharp).unwrap().melody()[0].written.to_string()
    };
    assert_eq!(in_key(4), "D#5");
    assert_eq!(in_key(-5), "Eb5");
    // D♯ is the raised fourth of A minor.
    assert_eq!(in_key(0), "D#5");
    assert_eq!(refusal(&Mend::Key { bar: 9, key: Key::default() }), "the tune has no such bar");
}

fn in_metre(bar: usize, beats: u8, unit: u8) -> Mend {
    Mend::Metre { bar, metre: Metre::try_new(beats, unit).expect("a metre") }
}

/// The bars as text: `2 4/4 3` for bar 2 of three quarters in 4/4, its section behind it.
fn bars(tune: &Tune) -> String {
    let bar = |bar: &Bar| {
        let section = bar.section.as_ref().map_or_else(String::new, |name| format!(" {name}"));
        format!("{} {} {}{section}", bar.number, bar.metre, bar.length)
    };
    tune.bars().iter().map(bar).collect::<Vec<_>>().join(", ")
}

#[test]
fn another_metre_draws_the_lines_anew_and_everything_keeps_its_time() {
    let waltz = mended(&in_metre(1, 3, 4));
    assert_eq!(bars(&waltz), "1 4/4 4, 2 3/4 3, 3 3/4 3, 4 3/4 3, 5 3/4 3");
    assert_eq!((melody(&waltz), chords(&waltz)), (melody(&tune()), chords(&tune())));
    // The last bar comes out short and is filled up with a rest.
    assert_eq!(bars(&mended(&in_metre(0, 5, 4))), "1 5/4 5, 2 5/4 5, 3 5/4 5, 4 5/4 5");
    assert_eq!(bars(&mended(&in_metre(2, 2, 4))), "1 4/4 4, 2 4/4 4, 3 2/4 2, 4 2/4 2, 5 2/4 2, 6 2/4 2");
    assert_eq!(mended(&in_metre(0, 4, 4)), tune());
    assert_eq!(refusal(&in_metre(9, 3, 4)), "the tune has no such bar");
}

#[test]
fn what_follows_the_metre_moves_behind_the_rest_that_fills_it() {
    let first = in_metre(2, 2, 2).apply(&tune()).unwrap();
    let after = in_metre(0, 3, 4).apply(&first).unwrap();
    assert_eq!(bars(&after), "1 3/4 3, 2 3/4 3, 3 3/4 3, 4 2/2 4, 5 2/2 4");
    assert_eq!(chords(&after), "0 C, 9 G7");
    assert!(melody(&after).contains("6+2 D5, 9+2 E5"), "{}", melody(&after));
    let mend = in_metre(0, 3, 4);
    assert_eq!((mend.carried(&first, q(6)), mend.carried(&first, q(8))), (Some(q(6)), Some(q(9))));
    let tied = Mend::Note { at: q(6), length: q(3), written: spelled("D5") }.apply(&first).unwrap();
    let fault = mend.apply(&tied).unwrap_err().to_string();
    assert!(fault.starts_with("bar 2 would be filled up with a rest, but a note sounds on"), "{fault}");
}

#[test]
fn a_pickup_stays_short_and_sections_and_signs_keep_their_places() {
    let mut parts = tune().into_parts();
    parts.bars[0].length = q(2);
    parts.bars[3].length = q(2);
    parts.bars[1].section = Some("A".into());
    parts.bars[2].section = Some("B".into());
    parts.melody.truncate(6);
    parts.bars[1].repeat_start = true;
    parts.bars[3].repeat_end = Some(2);
    let pickup = Tune::try_new(parts).unwrap();
    let waltz = in_metre(0, 3, 4).apply(&pickup).unwrap();
    assert_eq!(bars(&waltz), "1 3/4 2, 2 3/4 3 A, 3 3/4 3 B, 4 3/4 3, 5 3/4 1");
    assert_eq!(waltz.end(), pickup.end());
    assert!(waltz.bars()[1].repeat_start && waltz.bars()[4].repeat_end == Some(2));
    assert_eq!(waltz.bars().iter().filter(|bar| bar.leaves() || bar.is_entered()).count(), 2);
}

#[test]
fn a_pickup_longer_than_the_new_bar_keeps_the_first_downbeat_on_a_line() {
    let mut parts = tune().into_parts();
    parts.bars[0].length = q(3);
    parts.melody.truncate(6);
    let halved = in_metre(0, 2, 4).apply(&Tune::try_new(parts).unwrap()).unwrap();
    let starts: Vec<Ticks> = halved.bars().iter().map(|bar| bar.start).take(4).collect();
    assert_eq!(starts, [q(0), q(1), q(3), q(5)]);
}

#[test]
fn a_metre_that_would_cut_a_repeat_or_an_ending_is_refused() {
    let mut parts = tune().into_parts();
    parts.bars[1].repeat_end = Some(2);
    let repeated = Tune::try_new(parts).unwrap();
    let fault = in_metre(0, 3, 4).apply(&repeated).unwrap_err().to_string();
    assert_eq!(
        fault,
        "the bars of 3/4 don't come out even at the end of bar 2: a repeat or an ending would be cut in two; \
         change the metre from behind it, or add or take away bars before it"
    );
    let halved = in_metre(0, 2, 4).apply(&repeated).unwrap();
    assert_eq!(halved.bars().iter().position(|bar| bar.repeat_end.is_some()), Some(3));
    assert_eq!(melody(&halved), melody(&repeated));
}

#[test]
fn bars_are_added_and_taken_away() {
    let more = mended(&Mend::AddBars { after: 1, count: 2 });
    let numbers: Vec<_> = more.bars().iter().map(|bar| bar.number.as_str()).collect();
    assert_eq!(numbers, ["1", "2", "3", "4", "5", "6"]);
    assert_eq!(chords(&more), "0 C, 16 G7");
    let fewer = mended(&Mend::RemoveBars(1..3));
    assert_eq!(melody(&fewer), "0+2 E5, 2+2 D5, 4+2 E5, 6+2 D5");
    // The chord of the bars that have gone still holds behind them.
    assert_eq!(chords(&fewer), "0 C, 4 G7");
    assert_eq!(refusal(&Mend::RemoveBars(0..4)), "a tune has at least one bar");
    assert_eq!(refusal(&Mend::AddBars { after: 0, count: 5_000 }), "a tune has at most 2000 bars");
}

#[test]
fn a_tie_over_a_repeat_needs_both_its_ends() {
    let mut parts = tune().into_parts();
    parts.melody[7].tied_out = true;
    parts.melody[0].tied_in = true;
    for note in [0, 7] {
        parts.melody[note].written = spelled("G5");
    }
    parts.bars[3].repeat_end = Some(2);
    let tied = Tune::try_new(parts).unwrap();
    let ends = |tune: &Tune| (tune.melody()[0].tied_in, tune.melody().last().unwrap().tied_out);
    assert_eq!(ends(&Mend::Section { bar: 1, name: Some("B".into()) }.apply(&tied).unwrap()), (true, true));
    assert_eq!(ends(&Mend::Pitch { at: q(0), written: spelled("A5") }.apply(&tied).unwrap()), (false, false));
    assert_eq!(ends(&Mend::Length { at: q(14), length: q(1) }.apply(&tied).unwrap()), (false, false));
}

#[test]
fn letters_and_steps_mean_what_the_key_says() {
    let d = Key::try_new(2, Mode::Major).unwrap();
    assert_eq!(nearest(Step::F, d, spelled("E5").pitch().unwrap()).to_string(), "F#5");
    assert_eq!(nearest(Step::C, d, spelled("A4").pitch().unwrap()).to_string(), "C#5");
    assert_eq!(nearest(Step::G, d, spelled("C5").pitch().unwrap()).to_string(), "G4");
    assert_eq!(along_scale(spelled("B4"), d, 1).to_string(), "C#5");
    assert_eq!(along_scale(spelled("D5"), d, -1).to_string(), "C#5");
    assert_eq!(by_semitones(spelled("D5"), d, 1).unwrap().to_string(), "D#5");
    assert_eq!(by_semitones(spelled("Eb5"), d, -12).unwrap().to_string(), "Eb4");
    assert_eq!(by_semitones(spelled("G9"), d, 1), None);
}

#[test]
fn locks_follow_their_bars_and_go_with_their_notes() {
    let grip = Grip::from_holds([(StringIndex::new(0), Hold::stopped(Fret::new(12), Finger::Index))]);
    let bass = Some(BassChoice::Class(PitchClass::from_semitones(0)));
    let mut work = Work { tune: Arc::new(tune()), plan: Plan::default() };
    let lock = Lock { melody: Some(StringIndex::new(0)), bass, grip: Some(grip) };
    for at in [q(4), q(6)] {
        work.plan.locks.set(at, lock);
    }
    let after = |mend: Mend| {
        let mut work = work.clone();
        Edit::Tune(mend).apply(&mut work);
        work.plan.locks
    };
    let moved = after(Mend::AddBars { after: 0, count: 1 });
    assert_eq!(moved.iter().map(|(at, _)| at).collect::<Vec<_>>(), [q(8), q(10)]);
    let gone = after(Mend::RemoveBars(1..2));
    assert!(gone.is_empty());
    // Nothing begins there any more.
    assert_eq!(after(Mend::Silence(q(6)..q(8))).iter().map(|(at, _)| at).collect::<Vec<_>>(), [q(4)]);
    // Another note: the grip goes, the string stays, since the note lies on it too.
    let other = after(Mend::Pitch { at: q(4), written: spelled("F5") }).at(q(4));
    assert_eq!(other, Lock { grip: None, ..lock });
}

#[test]
fn changes_are_named_by_bar_and_beat() {
    let name = |mend: Mend| Edit::Tune(mend).label(&tune());
    assert_eq!(name(Mend::Chord { at: q(8), symbol: Some(chord("Bbm7")) }), "Chord B♭m7 in bar 3, beat 1");
    assert_eq!(name(Mend::Pitch { at: q(2), written: spelled("F#5") }), "Pitch F♯5 in bar 1, beat 3");
    assert_eq!(name(Mend::AddBars { after: 1, count: 2 }), "Add bars 3 to 4");
    assert_eq!(name(Mend::Tempo { bar: 0, tempo: Tempo::try_new(120) }), "Tempo 120 from bar 1");
}

fn mends() -> impl Strategy<Value = Mend> {
    let time = || (-2_i64..40).prop_map(|eighths| Ticks::new(eighths * Ticks::PER_QUARTER / 2));
    let length = || (-1_i64..9).prop_map(|eighths| Ticks::new(eighths * Ticks::PER_QUARTER / 2));
    let written = || {
        (40_u8..127).prop_map(|midi| {
            let pitch = handspan_core::pitch::Pitch::new(midi);
            SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), 1))
        })
    };
    let bar = || 0_usize..7;
    let line = || prop::sample::select(Line::ALL.to_vec());
    let symbol = prop::option::of(prop::sample::select(vec!["C", "Am7", "F#dim", "N.C."]).prop_map(chord));
    let metre = prop::sample::select(vec![(4, 4), (3, 4), (6, 8), (5, 4), (1, 4)]);
    prop_oneof![
        1 => "[a-c]{0,2}".prop_map(Mend::Title),
        1 => (time(), symbol).prop_map(|(at, symbol)| Mend::Chord { at, symbol }),
        4 => (time(), length(), written()).prop_map(|(at, length, written)| Mend::Note { at, length, written }),
        2 => (time(), written()).prop_map(|(at, written)| Mend::Pitch { at, written }),
        2 => (time(), length()).prop_map(|(at, length)| Mend::Length { at, length }),
        1 => (time(), length()).prop_map(|(at, length)| Mend::Silence(at..at + length)),
        3 => (line(), time(), length(), written())
            .prop_map(|(line, at, length, written)| Mend::Line { line, at, length, written }),
        1 => (line(), time(), length()).prop_map(|(line, at, n)| Mend::LineSilence { line, passage: at..at + n }),
        1 => (line(), time(), length()).prop_map(|(line, at, n)| Mend::MarkAsLine { line, passage: at..at + n }),
        1 => (bar(), prop::option::of("[A-C ]{1,2}")).prop_map(|(bar, name)| Mend::Section { bar, name }),
        1 => (bar(), -7_i8..8).prop_map(|(bar, f)| Mend::Key { bar, key: Key::try_new(f, Mode::Minor).expect("a key") }),
        2 => (bar(), metre).prop_map(|(bar, (b, u))| Mend::Metre { bar, metre: Metre::try_new(b, u).expect("a metre") }),
        1 => (bar(), prop::option::of(10_u16..300)).prop_map(|(bar, t)| Mend::Tempo { bar, tempo: t.and_then(Tempo::try_new) }),
        2 => (bar(), 0_usize..3).prop_map(|(after, count)| Mend::AddBars { after, count }),
        2 => (bar(), 0_usize..3).prop_map(|(from, count)| Mend::RemoveBars(from..from + count)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn a_tune_holds_together_whatever_is_done_and_undo_returns_exactly(
        mends in prop::collection::vec(mends(), 1..40),
        locked in prop::collection::vec(0_i64..16, 0..4),
    ) {
        let mut first = Work { tune: Arc::new(tune()), plan: Plan::default() };
        for quarter in locked {
            first.plan.locks.set(q(quarter), Lock { bass: Some(BassChoice::Free), ..Lock::default() });
        }
        let mut history = History::new(first.clone());
        let mut past = vec![first];
        for mend in mends {
            let edit = Edit::Tune(mend.clone());
            let refused = edit.check(history.work()).is_err();
            if history.apply(&edit) {
                prop_assert!(!refused, "{mend:?} was refused and changed the work");
                past.push(Work::clone(history.work()));
            }
            let work = history.work();
            let again = Tune::try_new(Tune::clone(&work.tune).into_parts());
            prop_assert_eq!(again.as_ref(), Ok(&*work.tune), "{:?}", mend);
            prop_assert!(work.plan.locks.iter().all(|(at, _)| at >= Ticks::ZERO && at < work.tune.end()));
        }
        while history.undo() {
            past.pop();
            prop_assert_eq!(&**history.work(), past.last().expect("the first work stays"));
        }
        prop_assert_eq!(past.len(), 1);
    }
}
