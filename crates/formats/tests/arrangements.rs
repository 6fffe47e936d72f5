//! What a written arrangement says, and how arrangements of other programs are read.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]

use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::harmony::{Key, Mode};
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Touch, Tuning};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, Ending, MelodyNote, Tune, TuneParts};
use handspan_formats::{ReadError, Severity, musicxml};

fn note(at: i64, length: i64, string: u8, fret: u8, part: Part) -> ScoreNote {
    let place = Place { string: StringIndex::from_number(string).unwrap(), fret: Fret::new(fret) };
    let pitch = Instrument::classical().sounding(place).unwrap();
    ScoreNote {
        at: Ticks::QUARTER * at,
        length: Ticks::QUARTER * length,
        written: SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), 1)),
        place,
        touch: Touch::Plain,
        finger: (fret > 0).then_some(Finger::Index),
        pluck: Some(if part == Part::Melody { RightFinger::Middle } else { RightFinger::Thumb }),
        part,
        tied_in: false,
        tied_out: false,
    }
}

/// Two bars in G: F sharp and F natural over an open E that rings on for six quarters.
fn score() -> Score {
    let key = Key::try_new(1, Mode::Major).unwrap();
    let bar = |number: &str| Bar::plain(number, Metre::COMMON.bar(), Metre::COMMON, key);
    let notes =
        vec![note(0, 4, 1, 2, Part::Melody), note(0, 6, 6, 0, Part::Bass), note(4, 4, 1, 1, Part::Melody)];
    let parts = TuneParts {
        title: "Two bars".into(),
        bars: vec![bar("1"), bar("2")],
        melody: melody(&notes),
        ..TuneParts::default()
    };
    Score {
        tune: Arc::new(Tune::try_new(parts).unwrap()),
        instrument: Instrument::classical(),
        notes,
        taps: Vec::new(),
    }
}

fn melody(notes: &[ScoreNote]) -> Vec<MelodyNote> {
    let melody = notes.iter().filter(|n| n.part == Part::Melody);
    melody
        .map(|n| MelodyNote {
            at: n.at,
            length: n.length,
            written: n.written,
            tied_in: n.tied_in,
            tied_out: n.tied_out,
        })
        .collect()
}

/// The text without the space between its elements.
fn compact(text: &str) -> String {
    text.lines().map(str::trim).collect()
}

#[test]
fn an_arrangement_is_music_that_is_written_out() {
    let plain = musicxml::write_score(&score());
    let symbol = "<harmony><root><root-step>E</root-step></root><kind>minor</kind></harmony><note";
    let with_chords = plain.replacen("<note", symbol, 1);
    let unmarked = with_chords.replace("<string>", "<text>").replace("</string>", "</text>");
    let unmarked = unmarked.replace("fingering>", "text>");
    let is_written_out = |text: &str| musicxml::is_written_out(text.as_bytes());
    assert!(is_written_out(&plain));
    assert!(is_written_out(&with_chords), "strings and fingers are printed");
    assert!(!is_written_out(&unmarked), "chords over unmarked notes: a lead sheet");
}

#[test]
fn few_basses_under_a_line_are_written_out() {
    let note = |step: &str, octave: u8, length: u8, voice: u8| {
        format!(
            "<note><pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>{length}</duration>\
             <voice>{voice}</voice></note>"
        )
    };
    let eighths = note("E", 4, 1, 1).repeat(30) + "<backup><duration>30</duration></backup>";
    let is_written_out = |clef: &str, below: &str| {
        let score = format!(
            "<score-partwise><part-list><score-part id=\"P1\"><part-name/></score-part></part-list><part id=\"P1\">\
             <measure number=\"1\"><attributes><divisions>1</divisions>{clef}</attributes>{eighths}{below}</measure>\
             </part></score-partwise>"
        );
        musicxml::is_written_out(score.as_bytes())
    };
    let guitar = "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>";
    assert!(is_written_out(guitar, &note("E", 2, 2, 2)));
    assert!(!is_written_out("", &note("E", 2, 2, 2)), "a double stop");
    assert!(!is_written_out(guitar, &note("E", 4, 1, 2)), "two voices share one note");
    assert!(!is_written_out(guitar, ""), "a melody alone");
}

#[test]
fn staff_and_tablature_say_what_each_is_for() {
    let text = compact(&musicxml::write_score(&score()));
    let expected = [
        "<clef number=\"1\"><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>",
        "<clef number=\"2\"><sign>TAB</sign><line>5</line></clef>",
        "<staff-lines>6</staff-lines><staff-tuning line=\"1\"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave>",
        "<technical><fingering>1</fingering><pluck>m</pluck></technical>",
        "<technical><fingering>0</fingering><pluck>p</pluck></technical>",
        "<technical><string>6</string><fret>0</fret></technical>",
        "<key><fifths>1</fifths><mode>major</mode></key>",
    ];
    for part in expected {
        assert!(text.contains(part), "{part}\n{text}");
    }
    assert_eq!(text, compact(&musicxml::write_score(&score())), "the same bytes each time");
}

#[test]
fn a_note_that_rings_over_the_bar_line_is_tied_in_both_staves() {
    let text = compact(&musicxml::write_score(&score()));
    assert_eq!(text.matches("<tie type=\"start\"/>").count(), 2);
    assert_eq!(text.matches("<tied type=\"stop\"/>").count(), 2);
    assert_eq!(text.matches("<string>6</string>").count(), 2, "each piece in the tablature has its place");
    assert_eq!(text.matches("<pluck>p</pluck>").count(), 1, "it is plucked once");
}

#[test]
fn short_notes_of_a_beat_are_beamed_in_the_staff_alone() {
    let mut score = score();
    let eighth = Ticks::from_quarter_parts(1, 2).unwrap();
    score.notes[0].length = eighth;
    let mut second = note(0, 1, 1, 1, Part::Melody);
    (second.at, second.length) = (eighth, eighth);
    score.notes.insert(2, second);
    let text = compact(&musicxml::write_score(&score));
    assert_eq!(text.matches("<beam number=\"1\">begin</beam>").count(), 1);
    assert_eq!(text.matches("<beam number=\"1\">end</beam>").count(), 1);
    assert_eq!(text.matches("<beam ").count(), 2, "no other note is short");
}

#[test]
fn accidentals_follow_key_and_bar() {
    let text = compact(&musicxml::write_score(&score()));
    assert_eq!(text.matches("<accidental>").count(), 1, "F sharp is in the key");
    assert!(text.contains("<accidental>natural</accidental>"));
}

#[test]
fn a_capo_and_another_tuning_are_written() {
    let drop_d = Tuning::named("drop D").unwrap();
    let mut score = score();
    score.instrument = Instrument::try_new(drop_d, 20, Instrument::CLASSICAL_SCALE, 3).unwrap();
    let text = musicxml::write_score(&score);
    assert!(compact(&text).contains("<tuning-step>D</tuning-step><tuning-octave>2</tuning-octave>"));
    assert!(text.contains("<capo>3</capo>"));
    let read = musicxml::read_score(text.as_bytes()).unwrap().value;
    assert_eq!(read.instrument, score.instrument);
}

/// A note of the staff or of the tablature.
fn written(technical: &str) -> String {
    format!(
        "<note><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><notations>\
         <technical>{technical}</technical></notations></note>"
    )
}

fn part(id: &str, clef: &str, notes: &str) -> String {
    format!(
        "<part id=\"{id}\"><measure number=\"1\"><attributes><divisions>1</divisions><clef><sign>{clef}</sign></clef>\
         </attributes>{notes}</measure></part>"
    )
}

#[test]
fn staff_and_tablature_may_be_two_parts() {
    let staff = part("P1", "G", &written("<fingering>T</fingering><pluck>P</pluck>"));
    let tablature =
        part("P2", "TAB", &written("<string>6</string><fret>12</fret>").replace("4</octave>", "3</octave>"));
    let unlike = format!("<score-partwise>{staff}{tablature}</score-partwise>");
    let read = musicxml::read_score(unlike.as_bytes()).unwrap();
    assert!(read.has_faults(), "another pitch is another note");
    let like = unlike.replace("3</octave>", "4</octave>");
    let read = musicxml::read_score(like.as_bytes()).unwrap();
    assert_eq!(read.diagnostics, vec![]);
    let [note] = read.value.notes[..] else { panic!("{:?}", read.value.notes) };
    assert_eq!((note.finger, note.pluck), (Some(Finger::Thumb), Some(RightFinger::Thumb)));
    assert_eq!((note.place.string.number(), note.place.fret.number()), (6, 12));
}

#[test]
fn places_that_do_not_exist_are_faults() {
    let check = |technical: &str, expected: &str| {
        let good = written("<string>1</string><fret>0</fret>");
        let score =
            format!("<score-partwise>{}</score-partwise>", part("P1", "TAB", &(good + &written(technical))));
        let read = musicxml::read_score(score.as_bytes()).unwrap();
        assert_eq!(read.value.notes.len(), 1);
        assert_eq!(read.diagnostics[0].severity, Severity::Fault);
        let message = read.diagnostics[0].to_string();
        assert!(message.contains(expected), "{message}");
    };
    check("", "the note E4 names no string and fret that exist (string none, fret none); it is not kept");
    check("<string>99</string><fret>0</fret>", "(string 99, fret 0)");
    check("<string>1</string><fret>77</fret>", "(string 1, fret 77)");
    check("<string>9</string><fret>2</fret>", "string 9 fret 2 does not exist on this neck");
}

#[test]
fn an_instrument_that_cannot_be_is_an_error() {
    let details = "<staff-details><staff-tuning line=\"1\"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave>\
                   </staff-tuning></staff-details></attributes>";
    let text = format!(
        "<score-partwise>{}</score-partwise>",
        part("P1", "TAB", &written("<string>1</string><fret>0</fret>")).replace("</attributes>", details)
    );
    let expected = ReadError::Instrument("an instrument has 4 to 10 strings, not 1".into());
    assert_eq!(musicxml::read_score(text.as_bytes()), Err(expected));
}

#[test]
fn ties_across_an_ending_are_kept() {
    let mut parts = TuneParts::default();
    for number in ["1", "2", "3"] {
        let bar = Bar::plain(number, Metre::COMMON.bar(), Metre::COMMON, Key::default());
        parts.bars.push(bar);
    }
    for (bar, pass) in [(1, 1), (2, 2)] {
        parts.bars[bar].ending = Some(Ending { passes: vec![pass] });
        parts.bars[bar].ending_stops = true;
    }
    parts.bars[1].repeat_end = Some(2);
    let mut notes =
        vec![note(0, 4, 1, 5, Part::Melody), note(4, 4, 1, 3, Part::Melody), note(8, 4, 1, 5, Part::Melody)];
    notes[0].tied_out = true;
    (notes[2].tied_in, notes[2].pluck) = (true, None);
    parts.melody = melody(&notes);
    let score = Score {
        tune: Arc::new(Tune::try_new(parts).unwrap()),
        instrument: Instrument::classical(),
        notes,
        taps: Vec::new(),
    };
    let read = musicxml::read_score(musicxml::write_score(&score).as_bytes()).unwrap();
    assert_eq!(read.diagnostics, vec![]);
    assert_eq!(read.value, score);
}
