//! A score of several parts: one is the melody, others are read as bass line and hook.

use handspan_core::tune::{Line, Tune};
use handspan_formats::musicxml::{self, PartChoice};
use handspan_formats::{Imported, ReadError, Severity};

/// Notes of a part, each `pitch quarters`; `-` is a rest, `+` before a pitch sounds with the note before.
fn bar(number: usize, first: &str, notes: &str) -> String {
    let words: Vec<&str> = notes.split_whitespace().collect();
    let note = |pair: &[&str]| {
        let (chord, pitch) = pair[0].strip_prefix('+').map_or(("", pair[0]), |pitch| ("<chord/>", pitch));
        let sounds = if pitch == "-" {
            "<rest/>".to_owned()
        } else {
            let (step, octave) = pitch.split_at(1);
            format!("<pitch><step>{step}</step><octave>{octave}</octave></pitch>")
        };
        format!("<note>{chord}{sounds}<duration>{}</duration></note>", pair[1])
    };
    let notes: String = words.chunks(2).map(note).collect();
    format!("<measure number=\"{number}\">{first}{notes}</measure>")
}

/// A score of these parts, each with its name and its bars.
fn score(parts: &[(&str, &[&str])]) -> String {
    let four = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    let entry = |(index, (name, _)): (usize, &(&str, &[&str]))| {
        let name = if name.is_empty() { String::new() } else { format!("<part-name>{name}</part-name>") };
        format!("<score-part id=\"P{index}\">{name}</score-part>")
    };
    let part = |(index, (_, bars)): (usize, &(&str, &[&str]))| {
        let bar = |(at, notes): (usize, &&str)| bar(at + 1, if at == 0 { four } else { "" }, notes);
        let bars: String = bars.iter().enumerate().map(bar).collect();
        format!("<part id=\"P{index}\">{bars}</part>")
    };
    let list: String = parts.iter().enumerate().map(entry).collect();
    let all: String = parts.iter().enumerate().map(part).collect();
    format!("<score-partwise version=\"4.0\"><part-list>{list}</part-list>{all}</score-partwise>")
}

fn band() -> String {
    score(&[
        ("Bass", &["C3 1 E3 1 G3 1 E3 1", "F2 2 +A2 2 G2 2", "C3 4"]),
        ("Voice", &["E5 4", "- 4"]),
        ("Horns", &["- 4", "- 1 C4 1 +E4 1 D4 2"]),
    ])
}

fn parts(bass: Option<&str>, hook: Option<&str>) -> PartChoice {
    PartChoice { bass: bass.map(str::to_owned), hook: hook.map(str::to_owned), melody: None }
}

fn read(bass: Option<&str>, hook: Option<&str>) -> Result<Imported<Tune>, ReadError> {
    musicxml::read_tune_with(band().as_bytes(), &parts(bass, hook))
}

/// A line as text: `0+1 C3`, in quarter notes.
fn text(tune: &Tune, line: Line) -> String {
    let of_line = tune.lines().iter().filter(|note| note.line == line);
    of_line.map(|n| format!("{}+{} {}", n.at, n.length, n.written)).collect::<Vec<_>>().join(", ")
}

#[test]
fn parts_become_bass_line_and_hook() {
    let Imported { value: tune, diagnostics } = read(Some("bass"), Some("3")).unwrap();
    assert_eq!(tune.melody()[0].written.to_string(), "E5");
    assert_eq!(text(&tune, Line::Bass), "0+1 C3, 1+1 E3, 2+1 G3, 3+1 E3, 4+2 F2, 6+2 G2");
    assert_eq!(text(&tune, Line::Hook), "5+1 E4, 6+2 D4");
    let told: Vec<String> = diagnostics.iter().map(ToString::to_string).collect();
    assert_eq!(
        told.iter().map(|told| told.replace(" (line 1)", "")).collect::<Vec<_>>(),
        [
            "the bass line goes on after the melody's last bar (bars: 1); not kept",
            "bar 2: of the bass line's part only the lowest notes are kept, without 1 that sound with them",
            "bar 2: of the hook's part only the highest notes are kept, without 1 that sound with them",
        ]
    );
}

#[test]
fn the_melody_is_read_from_any_part_and_chords_from_where_they_stand() {
    let symbols = "<direction><direction-type><rehearsal>B</rehearsal></direction-type><sound tempo=\"72\" \
        fine=\"yes\"/></direction><harmony><root><root-step>F</root-step></root><kind>major</kind></harmony>";
    let marked = band().replace("<measure number=\"3\">", &format!("<measure number=\"3\">{symbols}"));
    let choice = PartChoice { melody: Some("horns".to_owned()), ..PartChoice::default() };
    // The horns rest in the bar over which the symbols stand.
    let rest = "</measure><measure number=\"3\"><note><rest/><duration>4</duration></note></measure></part>";
    let end = marked.rfind("</measure></part>").unwrap();
    let longer = format!("{}{rest}</score-partwise>", &marked[..end]);
    let Imported { value: tune, diagnostics } = musicxml::read_tune_with(longer.as_bytes(), &choice).unwrap();
    let melody: Vec<String> = tune.melody().iter().map(|note| note.written.to_string()).collect();
    assert_eq!(melody, ["E4", "D4"]);
    let chord = &tune.chords()[0];
    assert_eq!((chord.symbol.to_string(), tune.bar_index(chord.at)), ("F".to_owned(), 2));
    assert_eq!(tune.tempo_at(chord.at).quarters_a_minute(), 72);
    assert_eq!((tune.bars()[2].section.as_deref(), tune.bars()[2].fine), (Some("B"), true));
    // What was left aside by choice is no loss.
    assert!(diagnostics[0].message.contains("from the part “Horns”"), "{diagnostics:?}");
    assert_eq!(diagnostics[0].severity, Severity::Note);
}

#[test]
fn parts_are_listed_and_a_band_is_no_guitar() {
    let silent = score(&[("", &["C4 2 +E4 2 +G4 2 D4 2 +F4 2"]), ("Drums", &["- 4"])]);
    let names: Vec<_> =
        musicxml::parts(silent.as_bytes()).unwrap().into_iter().map(|p| (p.name, p.has_notes)).collect();
    assert_eq!(names, [(None, true), (Some("Drums".to_owned()), false)]);
    assert!(musicxml::is_written_out(silent.as_bytes()));
    assert!(!musicxml::is_written_out(
        silent.replace("<rest/>", "<pitch><step>C</step><octave>3</octave></pitch>").as_bytes()
    ));
    assert!(musicxml::parts(b"<score").is_err());
}

#[test]
fn without_a_choice_no_line_is_read() {
    let tune = musicxml::read_tune(band().as_bytes()).unwrap();
    assert_eq!(tune.value.lines(), []);
    assert_eq!(tune.value.melody()[0].written.to_string(), "E5", "the voice has the tune");
    assert!(tune.diagnostics[0].message.ends_with("not read: “Bass”, “Horns”"), "{:?}", tune.diagnostics);
    let first = |text: &str| {
        let tune = musicxml::read_tune(text.as_bytes()).unwrap().value;
        tune.melody()[0].written.to_string()
    };
    assert_eq!(first(&band().replace("Voice", "Invoice")), "C3", "the first part, where none is sung");
    let with_words = band().replacen(
        "<rest/><duration>1</duration></note><note>",
        "<rest/><duration>1</duration></note><note><lyric><text>la</text></lyric>",
        1,
    );
    assert_eq!(first(&with_words), "E4", "words are sung, whatever the part is called");
}

#[test]
fn a_part_that_is_not_there_is_named_with_those_that_are() {
    let message = read(Some("Tuba"), None).unwrap_err().to_string();
    assert_eq!(message, "the score has no part “Tuba”; its parts are 1 “Bass”; 2 “Voice”; 3 “Horns”");
    assert!(matches!(read(None, Some("0")), Err(ReadError::NoPart { .. })));
    let nameless = score(&[("", &["C4 4"])]);
    let message = musicxml::read_tune_with(nameless.as_bytes(), &parts(Some("2"), None)).unwrap_err();
    assert_eq!(message.to_string(), "the score has no part “2”; its parts are 1, which has no name");
    let nothing_left = musicxml::read_tune_with(nameless.as_bytes(), &parts(Some("1"), None));
    assert_eq!(nothing_left, Err(ReadError::NoNotes));
}

#[test]
fn bars_that_differ_lose_what_does_not_fit() {
    let uneven = score(&[("Voice", &["E5 3", "E5 4"]), ("Bass", &["C3 4", "D3 4"])]);
    let imported = musicxml::read_tune_with(uneven.as_bytes(), &parts(Some("Bass"), None)).unwrap();
    assert_eq!(text(&imported.value, Line::Bass), "3+4 D3");
    assert_eq!(imported.diagnostics.len(), 1, "{:?}", imported.diagnostics);
}
