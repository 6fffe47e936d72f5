//! `handspan finger`: written-out music from file to fingered file.

use std::fs;

use handspan_core::tune::{Mark, PrintedMarks};
use handspan_formats::musicxml;

use crate::desk::{Desk, demo, handspan, lead_sheet};

fn study() -> String {
    demo("ropewalk-study.musicxml").to_str().unwrap().to_owned()
}

#[test]
fn every_note_is_fingered_and_nothing_is_added() {
    let desk = Desk::new();
    let (study, out) = (study(), desk.path("out.musicxml"));
    let answer = handspan(&format!("finger {study} --json --out {out}")).succeeded().json();
    assert_eq!(answer["give_ways"].as_array().unwrap().len(), 0, "{answer}");
    let read = musicxml::read_score(&fs::read(&out).unwrap()).unwrap().value;
    let given = musicxml::read_written_out(&fs::read(&study).unwrap()).unwrap().value.0;
    let mut wanted: Vec<_> = given.melody().iter().map(|n| (n.at, n.pitch())).collect();
    wanted.extend(given.below_the_melody().iter().map(|n| (n.at, n.pitch())));
    wanted.sort_unstable();
    wanted.dedup();
    let mut kept: Vec<_> = read.notes.iter().map(|n| (n.at, n.pitch())).collect();
    kept.sort_unstable();
    assert_eq!(kept, wanted);
    assert!(read.notes.iter().all(|n| n.pluck.is_some() && n.finger.is_some() != n.place.fret.is_open()));
    let checked = handspan(&format!("check {out} --against {study}")).succeeded();
    assert_eq!(checked.answers.trim(), "No rule is broken.");
}

#[test]
fn printed_marks_are_kept() {
    let desk = Desk::new();
    let out = desk.path("out.musicxml");
    handspan(&format!("finger {} --out {out}", study())).succeeded();
    let read = musicxml::read_score(&fs::read(&out).unwrap()).unwrap().value;
    let (given, _) = musicxml::read_written_out(&fs::read(study()).unwrap()).unwrap().value;
    let marks = &given.written_out().unwrap().marks;
    assert!(marks.len() >= 8, "{marks:?}");
    for PrintedMarks { at, pitch, left, .. } in marks {
        let note = read.notes.iter().find(|n| n.at == *at && n.pitch() == *pitch).unwrap();
        match left {
            Some(Mark::Open) => assert!(note.place.fret.is_open(), "{note:?}"),
            Some(Mark::Stopped(finger)) => assert_eq!(note.finger, Some(*finger), "{note:?}"),
            None => {}
        }
    }
}

#[test]
fn a_mark_that_no_hand_can_keep_is_named() {
    let desk = Desk::new();
    // The open sixth string cannot be stopped by a finger, and E2 lies nowhere else.
    let text = fs::read_to_string(study()).unwrap();
    let wrong = text.replacen("<fingering>0</fingering>", "<fingering>2</fingering>", 9);
    let file = desk.lay("wrong.musicxml", wrong);
    let answer = handspan(&format!("finger {file} --json")).succeeded().json();
    let reasons: Vec<&str> =
        answer["give_ways"].as_array().unwrap().iter().map(|g| g["reason"].as_str().unwrap()).collect();
    assert!(reasons.iter().any(|reason| reason.contains("as they are marked")), "{answer}");
}

#[test]
fn a_fingered_project_opens_again() {
    let desk = Desk::new();
    let (project, first, again) =
        (desk.path("study.handspan"), desk.path("a.musicxml"), desk.path("b.musicxml"));
    handspan(&format!("finger {} --out {project} --out {first}", study())).succeeded();
    handspan(&format!("finger {project} --out {again}")).succeeded();
    assert_eq!(fs::read(first).unwrap(), fs::read(again).unwrap());
}

#[test]
fn a_project_of_a_lead_sheet_is_refused_with_a_sentence() {
    let desk = Desk::new();
    let project = desk.path("tune.handspan");
    handspan(&format!("arrange {} --out {project}", lead_sheet("lantern-on-the-quay"))).succeeded();
    let refused = handspan(&format!("finger {project}"));
    assert!(refused.refused(1).contains("arrange it"), "{refused:?}");
}

#[test]
fn lead_sheets_are_told_from_written_out_music() {
    let is_written_out = |name: &str| musicxml::is_written_out(&fs::read(demo(name)).unwrap());
    assert!(is_written_out("ropewalk-study.musicxml"));
    assert!(!is_written_out("gangway-at-six.musicxml"));
    assert!(!is_written_out("README.md"));
}

#[test]
fn who_arranges_written_out_music_is_told_of_the_other_command() {
    let desk = Desk::new();
    let piece = desk.path("piece.musicxml");
    let told = |line: &str| handspan(line).succeeded().remarks.contains("“handspan finger” keeps every note");
    assert!(!told(&format!("arrange {} --out {piece}", lead_sheet("gangway-at-six"))), "a lead sheet");
    assert!(told(&format!("arrange {piece}")), "a finished arrangement, though chord symbols stand in it");
    assert!(told(&format!("arrange {}", study())));
}
