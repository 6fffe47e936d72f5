//! Harmonics from a written-out file to fingers, to another file and to paper.

use std::fs;

use handspan_core::neck::Touch;
use handspan_formats::musicxml;

use crate::desk::{Desk, handspan};

/// A note of one quarter: step and octave as written, what stands in `technical`, and whether it joins the one before.
fn note((step, octave): (char, u8), technical: &str, chord: bool) -> String {
    let chord = if chord { "<chord/>" } else { "" };
    format!(
        "<note>{chord}<pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>1</duration>\
         <voice>1</voice><type>quarter</type><notations><technical>{technical}</technical></notations></note>"
    )
}

/// A bar of four quarters; the clef sounds as written.
fn bar(notes: &[String]) -> String {
    format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Guitar</part-name></score-part>\
         </part-list><part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions><time><beats>4</beats>\
         <beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change>\
         </clef></attributes>{}</measure></part></score-partwise>",
        notes.concat()
    )
}

fn harmonic(kind: &str, pitch: &str) -> String {
    format!("<harmonic><{kind}/>{pitch}</harmonic>")
}

/// String, fret and touch of every note that a file is fingered with, having passed the check and read back the same.
fn fingered(notes: &[String]) -> Vec<(u8, u8, Touch)> {
    let desk = Desk::new();
    let (file, out) = (desk.lay("harmonics.musicxml", bar(notes)), desk.path("out.musicxml"));
    let answer = handspan(&format!("finger {file} --json --out {out}")).succeeded().json();
    assert_eq!(answer["give_ways"].as_array().unwrap().len(), 0, "{answer}");
    let checked = handspan(&format!("check {out} --against {file}")).succeeded();
    assert_eq!(checked.answers.trim(), "No rule is broken.");
    let read = musicxml::read_score(&fs::read(&out).unwrap()).unwrap();
    assert_eq!(read.diagnostics, []);
    assert_eq!(musicxml::write_score(&read.value), fs::read_to_string(&out).unwrap());
    read.value.notes.iter().map(|n| (n.place.string.number(), n.place.fret.number(), n.touch)).collect()
}

#[test]
fn natural_harmonics_lie_at_nodes_however_they_are_written() {
    let sounding = harmonic("natural", "<sounding-pitch/>");
    let touching = harmonic("natural", "<touching-pitch/>");
    let base = harmonic("natural", "<base-pitch/>");
    let found = fingered(&[
        // B5 sounds at the seventh fret of the first string.
        note(('B', 5), &format!("{sounding}<string>1</string><fret>7</fret>"), false),
        note(('B', 4), &format!("{touching}<string>1</string><fret>7</fret>"), false),
        note(('E', 4), &format!("{base}<fret>12</fret>"), false),
        // Nothing is said but the touched point: string and fret follow.
        note(('D', 4), &format!("{}<string>4</string>", harmonic("natural", "")), false),
    ]);
    let natural = |string, fret| (string, fret, Touch::Natural);
    assert_eq!(found, [natural(1, 7), natural(1, 7), natural(1, 12), natural(4, 12)]);
}

#[test]
fn an_artificial_harmonic_may_be_a_chord_of_its_pitches() {
    let alone = harmonic("artificial", "<sounding-pitch/>");
    let base = harmonic("artificial", "<base-pitch/>");
    let touching = harmonic("artificial", "<touching-pitch/>");
    let found = fingered(&[
        note(('G', 5), &format!("{alone}<string>1</string><fret>3</fret>"), false),
        note(('C', 4), &format!("{base}<string>2</string>"), false),
        note(('C', 5), &touching, true),
        note(('E', 4), "", false),
        note(('D', 4), &harmonic("artificial", "<base-pitch/>"), false),
    ]);
    assert_eq!(found[0], (1, 3, Touch::Artificial));
    assert_eq!(found[1], (2, 1, Touch::Artificial));
    assert_eq!((found[2].2, found[3].2), (Touch::Plain, Touch::Artificial));
    assert_eq!(found.len(), 4, "a chord of two pitches is one note");
}

#[test]
fn a_harmonic_that_no_hand_can_play_is_listed() {
    let desk = Desk::new();
    // Two artificial harmonics at once: the right hand touches one string.
    let artificial = harmonic("artificial", "<sounding-pitch/>");
    let file = desk
        .lay("two.musicxml", bar(&[note(('G', 5), &artificial, false), note(('D', 5), &artificial, true)]));
    let answer = handspan(&format!("finger {file} --json")).succeeded().json();
    let reasons: Vec<&str> =
        answer["give_ways"].as_array().unwrap().iter().map(|g| g["reason"].as_str().unwrap()).collect();
    assert!(!reasons.is_empty() && reasons.iter().all(|reason| reason.contains("as a harmonic")), "{answer}");
}

#[test]
fn a_harmonic_where_there_is_no_node_is_a_fault_of_the_file() {
    let desk = Desk::new();
    let nowhere = format!("{}<string>1</string><fret>6</fret>", harmonic("natural", ""));
    let file = desk.lay("nowhere.musicxml", bar(&[note(('E', 4), &nowhere, false)]));
    let refused = handspan(&format!("finger {file}"));
    assert_eq!(refused.code, 1, "{refused:?}");
    assert!(refused.remarks.contains("no harmonic sounds there"), "{refused:?}");
}

#[test]
fn harmonics_survive_a_project_and_come_to_paper() {
    let desk = Desk::new();
    let sounding = format!("{}<string>2</string><fret>5</fret>", harmonic("natural", "<sounding-pitch/>"));
    let file =
        desk.lay("bells.musicxml", bar(&[note(('B', 5), &sounding, false), note(('E', 4), "", false)]));
    let (project, first, again) =
        (desk.path("bells.handspan"), desk.path("a.musicxml"), desk.path("b.musicxml"));
    handspan(&format!("finger {file} --out {project} --out {first}")).succeeded();
    handspan(&format!("finger {project} --out {again}")).succeeded();
    assert_eq!(fs::read(&first).unwrap(), fs::read(again).unwrap());
    let sheet = desk.path("bells.svg");
    handspan(&format!("finger {project} --layout staff-and-tablature --out {sheet}")).succeeded();
    let text = fs::read_to_string(&sheet).unwrap();
    assert!(text.contains("aria-label=\"harmonic\""), "{text}");
}
