//! A written bass line and hooks in an arrangement: kept to the note, or listed with the reason; never silent.

use std::sync::Arc;

use handspan_core::arrangement::{
    Arrangement, Edit, GiveWayReason, Work, arrange, arrange_passage, different_routes,
};
use handspan_core::check;
use handspan_core::demand::Part;
use handspan_core::grip::BassChoice;
use handspan_core::harmony::{ChordSymbol, Key};
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::plan::Plan;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, ChordAt, Line, LineNote, MelodyNote, Mend, Tune, TuneParts};
use handspan_core::watch::Unwatched;

fn half_beats(count: i64) -> Ticks {
    Ticks::new(count * Ticks::PER_QUARTER / 2)
}

fn spelled(text: &str) -> SpelledPitch {
    let (spelling, octave) = Spelling::read(text).expect("a note");
    SpelledPitch { spelling, octave: octave.parse().expect("an octave") }
}

/// Notes one after another, each `pitch length` with its length in eighths; `-` is a rest.
fn notes(text: &str) -> impl Iterator<Item = (Ticks, Ticks, SpelledPitch)> {
    let mut at = Ticks::ZERO;
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut notes = Vec::new();
    for pair in words.chunks(2) {
        let length = half_beats(pair[1].parse().expect("a length"));
        if pair[0] != "-" {
            notes.push((at, length, spelled(pair[0])));
        }
        at += length;
    }
    notes.into_iter()
}

/// A tune in common time with a chord a bar.
fn work(chords: &[&str], melody: &str, bass: &str, hook: &str) -> Work {
    let melody_note =
        |(at, length, written)| MelodyNote { at, length, written, tied_in: false, tied_out: false };
    let of =
        |line, text| notes(text).map(move |(at, length, written)| LineNote { at, length, written, line });
    let bar = |number: usize| {
        Bar::plain((number + 1).to_string(), Metre::COMMON.bar(), Metre::COMMON, Key::default())
    };
    let chord = |(bar, text): (i64, &&str)| ChordAt {
        at: half_beats(8 * bar),
        symbol: ChordSymbol::parse(text).expect("a chord symbol"),
    };
    let parts = TuneParts {
        bars: (0..chords.len()).map(bar).collect(),
        melody: notes(melody).map(melody_note).collect(),
        chords: (0..).zip(chords).map(chord).collect(),
        lines: of(Line::Bass, bass).chain(of(Line::Hook, hook)).collect(),
        ..TuneParts::default()
    };
    let tune = Tune::try_new(parts).expect("bars, melody and lines make a tune");
    Work { tune: Arc::new(tune), plan: Plan::default() }
}

/// Four bars with a walking bass, and a hook where the melody rests.
fn walking() -> Work {
    work(
        &["Am", "Dm", "E7", "Am"],
        "E5 4 C5 4 A4 4 - 4 B4 2 D5 2 G#4 4 A4 4 - 4",
        "A2 2 C3 2 E3 2 C3 2 D3 2 F3 2 A2 2 F3 2 E3 2 B2 2 E2 2 G#2 2 A2 8",
        "- 12 D4 1 F4 1 E4 2 - 12 E4 2 C4 2",
    )
}

/// Arranges a work and judges all of it.
fn arranged(work: &Work) -> Arrangement {
    let arrangement =
        arrange(work, &Unwatched).expect("nothing is locked, and the melody lies on the guitar");
    judge(work, &arrangement);
    arrangement
}

fn judge(work: &Work, arrangement: &Arrangement) {
    let Arrangement { score, give_ways, .. } = arrangement;
    assert_eq!(check::score(score, &work.plan.hand), [], "{work:?}");
    assert_eq!(check::melody(score, &work.tune, work.plan.transpose), []);
    assert_eq!(check::lines(score, give_ways, &work.tune, work.plan.transpose), []);
}

/// What gave way of a part, with bar and beat.
fn gave_way(arrangement: &Arrangement, part: Part) -> Vec<(String, GiveWayReason)> {
    let of_part = arrangement.give_ways.iter().filter(|give_way| give_way.part == part);
    of_part.map(|give_way| (give_way.bar_beat.to_string(), give_way.reason)).collect()
}

#[test]
fn a_walking_bass_and_a_hook_stand_as_written() {
    let work = walking();
    let arrangement = arranged(&work);
    assert!(arrangement.proven);
    assert_eq!(gave_way(&arrangement, Part::Bass), []);
    assert_eq!(gave_way(&arrangement, Part::Hook), []);
    let count = |part| arrangement.score.notes.iter().filter(|note| note.part == part).count();
    assert_eq!((count(Part::Bass), count(Part::Hook)), (13, 5));
    // Where the bass walks on, chord tones ring over it.
    let over_the_bass = |at: &Ticks| {
        let mut sounding = arrangement.score.sounding_at(*at);
        sounding.any(|note| note.part == Part::Inner && note.at < *at)
    };
    assert!((0..16).map(|beat| half_beats(2 * beat)).any(|at| over_the_bass(&at)));
}

#[test]
fn without_lines_nothing_of_them_is_there() {
    let with = walking();
    let mut parts = Tune::clone(&with.tune).into_parts();
    parts.lines.clear();
    let without = Work { tune: Arc::new(Tune::try_new(parts).expect("a tune")), ..with };
    let arrangement = arranged(&without);
    assert!(arrangement.score.notes.iter().all(|note| note.part != Part::Hook));
    assert!(arrangement.moments.len() < arranged(&walking()).moments.len());
}

#[test]
fn a_hook_above_the_melody_gives_way_with_its_reason() {
    let work = work(&["C"], "E4 8", "C3 8", "- 4 G4 4");
    let hook = gave_way(&arranged(&work), Part::Hook);
    assert_eq!(hook, [("bar 1, beat 3".to_owned(), GiveWayReason::NoRoomBelowMelody)]);
}

#[test]
fn a_bass_below_the_guitar_gives_way_and_the_rest_goes_on() {
    let work = work(&["C"], "G4 4 E4 4", "C2 2 C3 6", "");
    let arrangement = arranged(&work);
    let bass = gave_way(&arrangement, Part::Bass);
    assert_eq!(bass, [("bar 1, beat 1".to_owned(), GiveWayReason::NoRoomBelowMelody)]);
    assert!(arrangement.score.notes.iter().any(|note| note.part == Part::Bass && note.at == half_beats(2)));
}

#[test]
fn a_bass_that_no_hand_can_hold_on_is_let_go_and_named() {
    // F2 is on the lowest string alone, at the first fret; A5 at the seventeenth of the highest.
    let work = work(&["F"], "C4 4 A5 4", "F2 8", "");
    let bass = gave_way(&arranged(&work), Part::Bass);
    assert_eq!(bass, [("bar 1, beat 3".to_owned(), GiveWayReason::LetGo)]);
}

#[test]
fn a_locked_bass_stands_in_place_of_the_line() {
    let mut work = walking();
    let at = half_beats(2);
    Edit::Bass { at, bass: Some(BassChoice::Exact(Pitch::new(45))) }.apply(&mut work);
    let bass = gave_way(&arranged(&work), Part::Bass);
    assert!(bass.contains(&("bar 1, beat 2".to_owned(), GiveWayReason::LockedOtherwise)), "{bass:?}");
}

#[test]
fn a_locked_bass_that_leaves_the_note_open_leaves_it_to_the_line() {
    let mut work = walking();
    let bass = |work: &Work| {
        let notes = arranged(work).score.notes;
        notes.iter().filter(|n| n.part == Part::Bass).map(|n| (n.at, n.pitch())).collect::<Vec<_>>()
    };
    let line = bass(&work);
    Edit::Bass { at: half_beats(0), bass: Some(BassChoice::Free) }.apply(&mut work);
    assert_eq!(bass(&work), line);
}

#[test]
fn lines_sound_where_the_tune_is_transposed_to() {
    let mut work = walking();
    Edit::Transpose(Interval::new(-5)).apply(&mut work);
    let arrangement = arranged(&work);
    let first = arrangement.score.notes.iter().find(|note| note.part == Part::Bass).expect("a bass");
    assert_eq!(first.written, spelled("E2"));
}

#[test]
fn a_passage_is_found_anew_and_lines_outside_stay_as_they_are() {
    let work = walking();
    let current = arranged(&work);
    let (from, to) = (half_beats(8), half_beats(16));
    let again = arrange_passage(&work, &current, from, to, &Unwatched).expect("what is there can be played");
    judge(&work, &again);
    let outside = |arrangement: &Arrangement| -> Vec<_> {
        let struck = arrangement.moments.iter().filter(|moment| moment.at < from || moment.at >= to);
        struck.map(|moment| (moment.at, moment.grip.only(moment.struck))).collect()
    };
    assert_eq!(outside(&again), outside(&current));
    assert_eq!(again.effort, current.effort);
    let routes = different_routes(&work, &current, Some(from..to), 2, &Unwatched).expect("there are routes");
    assert_eq!(routes.len(), 2);
    for route in &routes {
        judge(&work, route);
    }
}

#[test]
fn a_marked_passage_of_the_melody_is_played_as_hook() {
    let mut work = work(&["C", "C"], "E5 8 G4 2 A4 2 G4 4", "", "");
    Edit::Tune(Mend::MarkAsLine { line: Line::Hook, passage: half_beats(8)..half_beats(16) })
        .apply(&mut work);
    let arrangement = arranged(&work);
    let hook: Vec<_> = arrangement.score.notes.iter().filter(|note| note.part == Part::Hook).collect();
    assert_eq!(hook.iter().map(|note| note.written).collect::<Vec<_>>(), ["G4", "A4", "G4"].map(spelled));
    assert_eq!(hook[1].length, half_beats(2));
}
