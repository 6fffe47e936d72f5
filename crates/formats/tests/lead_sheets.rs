//! Every feature of a lead sheet, each in a small score of its own.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]

use handspan_core::harmony::{ChordSymbol, DegreeKind, Kind, Mode};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Jump, Tune, playing_order};
use handspan_formats::{Imported, Severity, musicxml};

/// A score of one part; the first bar gets divisions of 12 and 4/4.
fn score(bars: &str) -> String {
    let first = "<attributes><divisions>12</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
    let bars = bars.replacen("<measure number=\"1\">", &format!("<measure number=\"1\">{first}"), 1);
    format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Melody</part-name></score-part>\
         </part-list><part id=\"P1\">{bars}</part></score-partwise>"
    )
}

fn bar(number: usize, inside: &str) -> String {
    format!("<measure number=\"{number}\">{inside}</measure>")
}

/// A note of so many twelfths of a quarter, with more elements after its voice.
fn note(pitch: &str, duration: u32, more: &str) -> String {
    let (step, octave) = pitch.split_at(1);
    let (before, after) = if more.contains("<chord/>") { ("<chord/>", "") } else { ("", more) };
    format!(
        "<note>{before}<pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>{duration}</duration>\
         {after}</note>"
    )
}

fn import(bars: &str) -> Imported<Tune> {
    musicxml::read_tune(score(bars).as_bytes()).unwrap()
}

/// Reads bars without losing anything.
fn tune(bars: &str) -> Tune {
    let imported = import(bars);
    assert_eq!(imported.diagnostics, vec![]);
    imported.value
}

/// The melody as pitches, starts and lengths in quarter notes.
fn melody(tune: &Tune) -> String {
    let notes = tune.melody().iter().map(|n| format!("{}@{}+{}", n.written, n.at, n.length));
    notes.collect::<Vec<_>>().join(" ")
}

fn messages<T>(imported: &Imported<T>) -> Vec<String> {
    imported.diagnostics.iter().map(ToString::to_string).collect()
}

#[test]
fn notes_rests_dots_and_tuplets() {
    let inside = [
        note("C5", 18, "<type>quarter</type><dot/>"),
        note("D5", 6, ""),
        "<note><rest/><duration>12</duration></note>".to_owned(),
        note("E5", 4, ""),
        note("F5", 8, ""),
    ];
    assert_eq!(melody(&tune(&bar(1, &inside.concat()))), "C5@0+3/2 D5@3/2+1/2 E5@3+1/3 F5@10/3+2/3");
}

#[test]
fn ties_join_notes_over_the_bar_line() {
    let start = "<tie type=\"start\"/>";
    let both = "<tie type=\"stop\"/><tie type=\"start\"/>";
    let stop = "<tie type=\"stop\"/>";
    let bars = [
        bar(1, &(note("C5", 36, "") + &note("D5", 12, start))),
        bar(2, &note("D5", 48, both)),
        bar(3, &(note("D5", 12, stop) + &note("D5", 36, ""))),
    ];
    assert_eq!(melody(&tune(&bars.concat())), "C5@0+3 D5@3+6 D5@9+3");
}

#[test]
fn a_tie_into_an_ending_played_later_is_marked_on_both_sides() {
    let ending = |number, kind| format!("<barline><ending number=\"{number}\" type=\"{kind}\"/></barline>");
    let bars = [
        bar(1, &note("C5", 48, "<tie type=\"start\"/>")),
        bar(
            2,
            &(ending(1, "start")
                + &note("E5", 48, "")
                + &ending(1, "stop")
                + "<barline><repeat direction=\"backward\"/></barline>"),
        ),
        bar(3, &(ending(2, "start") + &note("C5", 48, "<tie type=\"stop\"/>") + &ending(2, "stop"))),
    ];
    let tune = tune(&bars.concat());
    assert_eq!(playing_order(tune.bars()), [0, 1, 0, 2]);
    let flags: Vec<(bool, bool)> = tune.melody().iter().map(|n| (n.tied_in, n.tied_out)).collect();
    assert_eq!(flags, [(false, true), (false, false), (true, false)]);
}

#[test]
fn a_tie_that_leads_nowhere_is_struck_and_named() {
    let imported = import(&bar(1, &note("C5", 48, "<tie type=\"stop\"/>")));
    assert_eq!(melody(&imported.value), "C5@0+4");
    assert_eq!(
        messages(&imported),
        ["bar 1 (line 1): a tie ends at a note with nothing before it to be tied to; the note is struck"]
    );
}

#[test]
fn the_highest_note_at_every_onset_is_the_melody() {
    let lower = "<backup><duration>48</duration></backup>".to_owned() + &note("E4", 48, "<voice>2</voice>");
    let inside = [note("C5", 24, ""), note("A4", 24, "<chord/>"), note("D5", 24, ""), lower];
    let imported = import(&bar(1, &inside.concat()));
    assert_eq!(melody(&imported.value), "C5@0+2 D5@2+2");
    assert_eq!(messages(&imported), ["bar 1 (line 1): 2 notes below the melody are not kept"]);
}

#[test]
fn a_higher_voice_takes_the_melody_over() {
    let upper = "<backup><duration>48</duration></backup><forward><duration>24</duration></forward>"
        .to_owned()
        + &note("G5", 24, "<voice>2</voice>");
    let imported = import(&bar(1, &(note("C5", 48, "") + &upper)));
    assert_eq!(melody(&imported.value), "C5@0+2 G5@2+2");
    assert_eq!(imported.diagnostics[0].severity, Severity::Loss);
}

#[test]
fn grace_and_cue_notes_are_named() {
    let grace = "<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>";
    let cue = "<note><cue/><pitch><step>B</step><octave>5</octave></pitch><duration>24</duration></note>";
    let imported = import(&bar(1, &(grace.repeat(2) + &note("C5", 24, "") + cue)));
    assert_eq!(melody(&imported.value), "C5@0+2");
    assert_eq!(
        messages(&imported),
        [
            "bar 1 (line 1): 2 grace notes are not kept: they are no melody notes",
            "bar 1 (line 1): a cue note is not kept: it is no melody note"
        ]
    );
    assert_eq!(imported.value.end(), Ticks::QUARTER * 4);
}

#[test]
fn pickup_key_and_metre() {
    let change = "<attributes><key><fifths>-3</fifths><mode>minor</mode></key><time><beats>3+2</beats><beat-type>8\
                  </beat-type></time></attributes>";
    let bars = [bar(1, &note("C5", 12, "")), bar(2, &(change.to_owned() + &note("C5", 30, ""))), bar(3, "")];
    let tune = tune(&bars.concat());
    assert_eq!(tune.bars()[0].length, Ticks::QUARTER);
    assert_eq!(tune.bars()[1].metre, Metre::try_new(5, 8).unwrap());
    assert_eq!((tune.bars()[2].key.fifths(), tune.bars()[2].key.mode()), (-3, Mode::Minor));
    assert_eq!(tune.bars()[2].length, Metre::try_new(5, 8).unwrap().bar());
}

#[test]
fn repeats_endings_and_times() {
    let repeat = |inside: &str| format!("<barline>{inside}</barline>");
    let bars = [
        bar(1, &(repeat("<repeat direction=\"forward\"/>") + &note("C5", 48, ""))),
        bar(
            2,
            &(repeat("<ending number=\"1, 2\" type=\"start\"/>")
                + &note("D5", 48, "")
                + &repeat(
                    "<ending number=\"1, 2\" type=\"stop\"/><repeat direction=\"backward\" times=\"3\"/>",
                )),
        ),
        bar(
            3,
            &(repeat("<ending number=\"3\" type=\"start\"/>")
                + &note("E5", 48, "")
                + &repeat("<ending number=\"3\" type=\"discontinue\"/>")),
        ),
    ];
    assert_eq!(playing_order(tune(&bars.concat()).bars()), [0, 1, 0, 1, 0, 2]);
}

#[test]
fn jumps_from_sounds_and_from_words() {
    let direction = |inside: &str| format!("<direction>{inside}</direction>");
    let words = |words: &str| direction(&format!("<direction-type><words>{words}</words></direction-type>"));
    let sign = |name: &str| direction(&format!("<direction-type><{name}/></direction-type>"));
    let sound = |attribute: &str| format!("<sound {attribute}/>");
    let read = |marks: [String; 4]| {
        let bars: Vec<String> =
            marks.iter().enumerate().map(|(i, mark)| bar(i + 1, &(note("C5", 48, "") + mark))).collect();
        playing_order(tune(&bars.concat()).bars())
    };
    let none = String::new;
    let by_words = [words("To Coda"), none(), words("D.C. al Coda"), words("Coda")];
    assert_eq!(read(by_words), [0, 1, 2, 0, 3]);
    let by_signs = [sign("coda"), none(), words("Da Capo al Coda"), sign("coda")];
    assert_eq!(read(by_signs), [0, 1, 2, 0, 3]);
    let by_sound = [none(), sound("segno=\"s\""), sound("fine=\"yes\""), sound("dalsegno=\"s\"")];
    assert_eq!(read(by_sound), [0, 1, 2, 3, 1, 2]);
    let segno = [none(), sign("segno"), words("Fine"), words("D.S. al Fine")];
    assert_eq!(read(segno), [0, 1, 2, 3, 1, 2]);
    let no = [none(), none(), none(), sound("dacapo=\"no\"")];
    assert_eq!(read(no), [0, 1, 2, 3]);
}

#[test]
fn sections_and_tempi() {
    let rehearsal = "<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>";
    let metronome = "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>\
                     80</per-minute></metronome></direction-type></direction>";
    let bars = [
        bar(1, &(rehearsal.to_owned() + metronome + &note("C5", 48, ""))),
        bar(2, &("<sound tempo=\"96.0\"/>".to_owned() + &note("C5", 48, ""))),
    ];
    let tune = tune(&bars.concat());
    assert_eq!(tune.bars()[0].section.as_deref(), Some("A"));
    let tempi: Vec<u16> = tune.tempi().iter().map(|t| t.tempo.quarters_a_minute()).collect();
    assert_eq!(tempi, [120, 96]);
    assert_eq!(tune.bars()[0].jump, None::<Jump>);
}

#[test]
fn a_tempo_nobody_plays_is_named() {
    let imported = import(&bar(1, &("<sound tempo=\"9999\"/>".to_owned() + &note("C5", 48, ""))));
    assert!(messages(&imported)[0].contains("a tempo of 9999 is not kept"));
    assert!(imported.value.tempi().is_empty());
}

fn harmony(inside: &str) -> String {
    format!("<harmony>{inside}</harmony>")
}

#[test]
fn chord_symbols_with_degrees_bass_offset_and_text() {
    let root = "<root><root-step>B</root-step><root-alter>-1</root-alter></root>";
    let full = format!(
        "{root}<kind text=\"7\">dominant</kind><bass><bass-step>D</bass-step></bass><degree><degree-value>9\
         </degree-value><degree-alter>1</degree-alter><degree-type>add</degree-type></degree><offset>12</offset>"
    );
    let inverted = format!("{root}<kind>minor-seventh</kind><inversion>1</inversion>");
    let none = format!("{root}<kind text=\"N.C.\">none</kind><offset>36</offset>");
    let inside =
        harmony(&full) + &harmony(&none) + &note("C5", 24, "") + &harmony(&inverted) + &note("C5", 24, "");
    let tune = tune(&bar(1, &inside));
    let at: Vec<String> = tune.chords().iter().map(|c| c.at.to_string()).collect();
    assert_eq!(at, ["1", "2", "3"]);
    let chord = tune.chords()[0].symbol.chord().unwrap();
    assert_eq!((chord.root.to_string(), chord.kind), ("Bb".to_owned(), Kind::Dominant));
    assert_eq!(chord.printed.as_deref(), Some("7"));
    assert_eq!(chord.bass.map(|b| b.to_string()).as_deref(), Some("D"));
    assert_eq!((chord.degrees[0].number, chord.degrees[0].alter), (9, 1));
    assert_eq!(chord.degrees[0].kind, DegreeKind::Add);
    let inverted = tune.chords()[1].symbol.chord().unwrap();
    assert_eq!(inverted.bass.map(|b| b.to_string()).as_deref(), Some("Db"));
    assert_eq!(tune.chords()[2].symbol, ChordSymbol::NoChord);
}

#[test]
fn every_kind_of_the_standard_is_read_and_those_without_tones_are_named() {
    for kind in Kind::all() {
        let symbol =
            harmony(&format!("<root><root-step>C</root-step></root><kind>{}</kind>", kind.musicxml()));
        let imported = import(&bar(1, &(symbol + &note("C5", 48, ""))));
        assert_eq!(imported.value.chords()[0].symbol.chord().unwrap().kind, kind);
        let named = messages(&imported).iter().any(|message| message.contains(kind.musicxml()));
        assert_eq!(named, !kind.has_intervals(), "{kind:?}");
        assert!(!imported.has_faults());
    }
}

#[test]
fn an_unknown_kind_is_kept_as_printed_and_is_a_fault() {
    let symbol = harmony("<root><root-step>C</root-step></root><kind text=\"wow\">banana</kind>");
    let imported = import(&bar(1, &(symbol + &note("C5", 48, ""))));
    let chord = imported.value.chords()[0].symbol.chord().unwrap();
    assert_eq!((chord.kind, chord.printed.as_deref()), (Kind::Other, Some("wow")));
    assert!(imported.has_faults());
    assert_eq!(
        messages(&imported),
        [
            "bar 1 (line 1): “banana” is no kind of chord of the MusicXML standard; the symbol is kept as printed, and \
          only its root can be played; write the chord symbol anew"
        ]
    );
}

#[test]
fn a_chord_without_a_root_is_named() {
    let symbol = harmony("<function>IV</function><kind>major</kind>");
    let imported = import(&bar(1, &(symbol + &note("C5", 48, ""))));
    assert!(imported.value.chords().is_empty());
    assert!(
        messages(&imported)[0].contains("without a root, is not kept; write the chord symbol with its root")
    );
}

#[test]
fn transposing_instruments_sound() {
    let transpose = "<attributes><key><fifths>2</fifths></key><transpose><diatonic>-1</diatonic><chromatic>-2\
                     </chromatic></transpose></attributes>";
    let symbol = harmony("<root><root-step>D</root-step></root><kind>major</kind>");
    let tune = tune(&bar(1, &(transpose.to_owned() + &symbol + &note("D5", 48, ""))));
    assert_eq!(melody(&tune), "C5@0+4");
    assert_eq!(tune.bars()[0].key.fifths(), 0);
    assert_eq!(tune.chords()[0].symbol.chord().unwrap().root.to_string(), "C");
}

#[test]
fn lengths_that_divisions_cannot_say() {
    let divisions = "<attributes><divisions>1024</divisions></attributes>";
    let triplet = "<type>eighth</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>\
                   </time-modification>";
    let snapped = [note("C5", 341, triplet), note("D5", 341, triplet), note("E5", 342, triplet)];
    let tune = tune(&bar(1, &(divisions.to_owned() + &snapped.concat())));
    assert_eq!(melody(&tune), "C5@0+1/3 D5@1/3+1/3 E5@2/3+1/3");
    let lost = import(&bar(1, &(divisions.to_owned() + &note("C5", 341, "") + &note("D5", 1024, ""))));
    assert_eq!(lost.value.melody().len(), 1);
    assert!(messages(&lost)[0].contains("the note is not kept"));
}

#[test]
fn the_first_part_with_notes_is_read_and_the_others_named() {
    let rest = "<measure number=\"1\"><note><rest/><duration>4</duration></note></measure>";
    let notes = bar(1, &note("C5", 48, ""));
    let text =
        score(&notes).replace("<part id=\"P1\">", &format!("<part id=\"P0\">{rest}</part><part id=\"P1\">"));
    let imported = musicxml::read_tune(text.as_bytes()).unwrap();
    assert_eq!(imported.value.melody().len(), 1);
    assert_eq!(
        messages(&imported),
        [
            "the melody is read from the part “Melody”; not read: number 1; any part can be chosen as melody, bass line or hook"
        ]
    );
}

#[test]
fn what_no_arrangement_needs_is_counted_once() {
    let lyric = "<lyric><text>la</text></lyric>";
    let bars = bar(1, &note("C5", 24, lyric).repeat(2));
    assert_eq!(messages(&import(&bars)), ["lyrics are not kept (2 in all, the first in line 1)"]);
}

#[test]
fn title_and_composer() {
    let header = "<work><work-title>Small &amp; slow</work-title></work><identification><creator type=\"lyricist\">A\
                  </creator><creator type=\"composer\"> B </creator></identification><part-list>";
    let text = score(&bar(1, &note("C5", 48, ""))).replace("<part-list>", header);
    let tune = musicxml::read_tune(text.as_bytes()).unwrap().value;
    assert_eq!((tune.title(), tune.composer()), ("Small & slow", "B"));
}
