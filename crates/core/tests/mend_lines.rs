//! Bass line and hooks in a tune: how they are written, what is refused, and that they follow what becomes of the tune.

use handspan_core::arrangement::Edit;
use handspan_core::harmony::{Key, Mode};
use handspan_core::pitch::Interval;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{
    Bar, Line, LineNote, MelodyNote, Mend, MendFault, Tune, TuneFault, TuneParts, WrittenOut,
};

fn q(quarters: i64) -> Ticks {
    Ticks::QUARTER * quarters
}

fn spelled(text: &str) -> SpelledPitch {
    let (spelling, octave) = Spelling::read(text).expect("a note");
    SpelledPitch { spelling, octave: octave.parse().expect("an octave") }
}

fn note(line: Line, at: i64, length: i64, written: &str) -> LineNote {
    LineNote { at: q(at), length: q(length), written: spelled(written), line }
}

/// Four bars of 4/4 with a half note in the middle of each.
fn parts() -> TuneParts {
    let melody = |bar: i64| MelodyNote {
        at: q(4 * bar + 2),
        length: q(2),
        written: spelled("E5"),
        tied_in: false,
        tied_out: false,
    };
    TuneParts {
        bars: (1..=4).map(|n| Bar::plain(n.to_string(), q(4), Metre::COMMON, Key::default())).collect(),
        melody: (0..4).map(melody).collect(),
        ..TuneParts::default()
    }
}

fn with(lines: Vec<LineNote>) -> Result<Tune, TuneFault> {
    Tune::try_new(TuneParts { lines, ..parts() })
}

/// A walk through the first two bars and a hook in the second.
fn tune() -> Tune {
    let bass = (0..8).map(|beat| note(Line::Bass, beat, 1, ["C3", "Eb3"][(beat % 2) as usize]));
    with(bass.chain([note(Line::Hook, 4, 2, "G4")]).collect()).expect("lines that sound one after another")
}

/// A line as text: `0+1 C3`, in quarter notes.
fn text(tune: &Tune, line: Line) -> String {
    let of_line = tune.lines().iter().filter(|n| n.line == line);
    of_line.map(|n| format!("{}+{} {}", n.at, n.length, n.written)).collect::<Vec<_>>().join(", ")
}

fn mended(mend: &Mend) -> Tune {
    mend.apply(&tune()).unwrap_or_else(|fault| panic!("{mend:?}: {fault}"))
}

#[test]
fn lines_hold_together() {
    let fault = |lines| with(lines).expect_err("no tune").to_string();
    let overlap = vec![note(Line::Bass, 0, 3, "C3"), note(Line::Bass, 2, 1, "D3")];
    assert_eq!(fault(overlap), "two notes of the bass line sound at once in bar 1, beat 3");
    assert_eq!(
        fault(vec![note(Line::Hook, 5, 0, "C4")]),
        "the note of the hook in bar 2, beat 2 cannot sound"
    );
    assert_eq!(fault(vec![note(Line::Bass, 15, 2, "C3")]), "the tune goes on after its last bar");
    let two = vec![note(Line::Hook, 0, 4, "G4"), note(Line::Bass, 0, 4, "C3")];
    let tune = with(two).expect("two lines may sound at once");
    assert_eq!(tune.lines()[0].line, Line::Bass);
    assert_eq!(tune.line_at(Line::Hook, q(3)).map(LineNote::pitch), spelled("G4").pitch());
    assert_eq!(tune.line_at(Line::Hook, q(4)), None);
    let written_out = TuneParts { written_out: Some(WrittenOut::default()), ..tune.into_parts() };
    assert_eq!(Tune::try_new(written_out), Err(TuneFault::LinesOfWrittenOut));
}

#[test]
fn a_note_of_a_line_makes_room_in_its_line_alone() {
    let mend = Mend::Line { line: Line::Bass, at: q(4), length: q(3), written: spelled("F#2") };
    let written = mended(&mend);
    assert!(
        text(&written, Line::Bass).ends_with("3+1 Eb3, 4+3 F#2, 7+1 Eb3"),
        "{}",
        text(&written, Line::Bass)
    );
    assert_eq!(text(&written, Line::Hook), "4+2 G4");
    let cut = mended(&Mend::LineSilence { line: Line::Hook, passage: q(5)..q(6) });
    assert_eq!(text(&cut, Line::Hook), "4+1 G4");
    assert_eq!(text(&cut, Line::Bass), text(&tune(), Line::Bass));
    let beyond = Mend::Line { line: Line::Hook, at: q(16), length: q(1), written: spelled("G4") };
    assert_eq!(beyond.apply(&tune()), Err(MendFault::AfterEnd));
}

#[test]
fn a_passage_of_the_melody_is_marked_as_hook() {
    let marked = mended(&Mend::MarkAsLine { line: Line::Hook, passage: q(4)..q(8) });
    assert_eq!(text(&marked, Line::Hook), "6+2 E5");
    assert_eq!(marked.melody().len(), 3);
    let none = Mend::MarkAsLine { line: Line::Hook, passage: q(4)..q(6) }.apply(&tune());
    assert_eq!(
        none.expect_err("no note begins there").to_string(),
        "no melody note begins in the passage from bar 2, beat 1"
    );
}

#[test]
fn lines_move_with_bars_keys_and_transposition() {
    let more = mended(&Mend::AddBars { after: 0, count: 1 });
    assert_eq!(text(&more, Line::Hook), "8+2 G4");
    let fewer = mended(&Mend::RemoveBars(0..1));
    assert_eq!(text(&fewer, Line::Bass), "0+1 C3, 1+1 Eb3, 2+1 C3, 3+1 Eb3");
    let three = Mend::Metre { bar: 0, metre: Metre::try_new(3, 4).expect("a metre") };
    assert_eq!(text(&mended(&three), Line::Hook), text(&tune(), Line::Hook), "every note keeps its time");
    let sharp = Mend::Key { bar: 0, key: Key::try_new(7, Mode::Major).expect("a key") };
    assert!(text(&mended(&sharp), Line::Bass).starts_with("0+1 B#2, 1+1 D#3"));
    let higher = tune().transposed(Interval::new(2)).expect("a tone higher");
    assert!(text(&higher, Line::Bass).starts_with("0+1 D3, 1+1 F3"));
    assert_eq!(text(&higher, Line::Hook), "4+2 A4");
}

#[test]
fn changes_of_lines_are_named() {
    let name = |mend: Mend| Edit::Tune(mend).label(&tune());
    let passage = q(4)..q(12);
    let bass = Mend::Line { line: Line::Bass, at: q(5), length: q(1), written: spelled("Bb2") };
    assert_eq!(name(bass), "Note B♭2 of the bass line in bar 2, beat 2");
    assert_eq!(
        name(Mend::LineSilence { line: Line::Bass, passage: passage.clone() }),
        "Rest of the bass line in bar 2, beat 1"
    );
    assert_eq!(name(Mend::MarkAsLine { line: Line::Hook, passage }), "Mark bars 2 to 3 as hook");
}
