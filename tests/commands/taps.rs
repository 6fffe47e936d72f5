//! Taps from a written-out file to the right hand, to another file and to paper.

use std::fs;

use handspan_core::arrangement::TapBy;
use handspan_core::hand::RightFinger;
use handspan_core::time::Ticks;
use handspan_formats::musicxml;

use crate::desk::{Desk, handspan};

fn note((step, octave): (char, u8), chord: bool) -> String {
    let chord = if chord { "<chord/>" } else { "" };
    format!(
        "<note>{chord}<pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>1</duration>\
         <voice>1</voice><type>quarter</type></note>"
    )
}

/// A bar of two notes, four notes, a rest and four notes, with what stands behind them from its beginning.
fn bar(behind: &str) -> String {
    let full = [('E', 5), ('C', 5), ('G', 4), ('C', 4)].map(|(step, octave)| (step, octave - 1));
    let chord: String = full.iter().enumerate().map(|(index, pitch)| note(*pitch, index > 0)).collect();
    let two = note(('E', 4), false) + &note(('C', 3), true);
    format!(
        "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Guitar</part-name></score-part>\
         </part-list><part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions><time><beats>4</beats>\
         <beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change>\
         </clef></attributes>{two}{chord}<note><rest/><duration>1</duration><voice>1</voice></note>{chord}<backup>\
         <duration>4</duration></backup>{behind}</measure></part></score-partwise>"
    )
}

const GAP: &str = "<forward><duration>1</duration></forward>";
const UNPITCHED: &str = "<note><unpitched><display-step>B</display-step><display-octave>4</display-octave></unpitched>\
                         <duration>1</duration><voice>9</voice><type>quarter</type></note>";
const CROSS: &str = "<note><pitch><step>B</step><octave>4</octave></pitch><duration>1</duration><voice>9</voice>\
                     <type>quarter</type><notehead>x</notehead></note>";

#[test]
fn taps_take_the_thumb_where_fingers_pluck_and_the_hand_elsewhere() {
    let desk = Desk::new();
    let file = desk.lay("taps.musicxml", bar(&format!("{UNPITCHED}{GAP}{CROSS}")));
    let (project, out, again) = (desk.path("a.handspan"), desk.path("a.musicxml"), desk.path("b.musicxml"));
    let answer = handspan(&format!("finger {file} --json --out {out} --out {project}")).succeeded().json();
    assert_eq!(answer["give_ways"].as_array().unwrap().len(), 0, "{answer}");
    let checked = handspan(&format!("check {out} --against {file}")).succeeded();
    assert_eq!(checked.answers.trim(), "No rule is broken.");
    handspan(&format!("finger {project} --out {again}")).succeeded();
    assert_eq!(fs::read(&out).unwrap(), fs::read(&again).unwrap());
    let read = musicxml::read_score(&fs::read(&out).unwrap()).unwrap();
    assert_eq!(read.diagnostics, []);
    let taps: Vec<_> = read.value.taps.iter().map(|tap| (tap.at, tap.length, tap.by)).collect();
    let quarter = Ticks::QUARTER;
    assert_eq!(taps, [(Ticks::ZERO, quarter, TapBy::Thumb), (quarter * 2, quarter, TapBy::Hand)]);
    let first = read.value.notes.iter().filter(|note| note.at == Ticks::ZERO);
    assert!(first.into_iter().all(|note| note.pluck != Some(RightFinger::Thumb)));
}

#[test]
fn a_tap_gives_way_where_the_thumb_plucks() {
    let desk = Desk::new();
    let file = desk.lay("taps.musicxml", bar(&format!("{GAP}{UNPITCHED}")));
    let out = desk.path("a.musicxml");
    let answer = handspan(&format!("finger {file} --json --out {out}")).succeeded().json();
    let given = &answer["give_ways"][0];
    assert_eq!(given["part"], "tap", "{answer}");
    assert!(given["reason"].as_str().unwrap().contains("thumb plucks"), "{answer}");
    assert_eq!(musicxml::read_score(&fs::read(&out).unwrap()).unwrap().value.taps, []);
    let against = handspan(&format!("check {out} --against {file}"));
    assert!(against.answers.contains("bar 1, beat 2: a tap is missing"), "{against:?}");
}

#[test]
fn a_lead_sheet_says_that_it_keeps_no_taps() {
    let desk = Desk::new();
    let text = bar(UNPITCHED).replacen(
        "</attributes>",
        "</attributes><harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>",
        1,
    );
    let file = desk.lay("lead.musicxml", text);
    let arranged = handspan(&format!("arrange {file}"));
    assert!(arranged.remarks.contains("taps are not kept in a lead sheet (1 in all)"), "{arranged:?}");
}
