//! A score of several parts: which of them are melody, bass line and hook.

use handspan_core::demand::Part;
use handspan_formats::musicxml::{PartChoice, read_score, read_tune_with};

use crate::desk::{Desk, demo, handspan, lead_sheet};

const SCORE: &str = "mail-boat-morning";

/// The pitches of one part of the demo score, one after another.
fn pitches(part: &str) -> Vec<String> {
    let bytes = std::fs::read(demo(&format!("{SCORE}.musicxml"))).unwrap();
    let choice = PartChoice { melody: Some(part.to_owned()), ..PartChoice::default() };
    let tune = read_tune_with(&bytes, &choice).unwrap().value;
    tune.melody().iter().map(|note| note.written.to_string()).collect()
}

#[test]
fn melody_bass_line_and_hook_are_those_of_the_chosen_parts() {
    let desk = Desk::new();
    let out = desk.path("boat.musicxml");
    let chosen = "--melody Voice --bass-line bass --hook 1";
    let report = handspan(&format!("arrange {} {chosen} --out {out} --json", lead_sheet(SCORE)));
    let report = report.succeeded().json();
    assert_eq!(
        (report["outcome"].as_str(), report["give_ways"].as_array().unwrap().len()),
        (Some("proven"), 0)
    );
    let mut notes = read_score(&std::fs::read(&out).unwrap()).unwrap().value.notes;
    notes.retain(|note| !note.tied_in);
    notes.sort_by_key(|note| (note.at, note.written.pitch()));
    let melody = notes.iter().filter(|note| note.part == Part::Melody);
    let mut melody = melody.map(|note| note.written.to_string());
    for pitch in pitches("Voice") {
        assert!(melody.any(|sounds| sounds == pitch), "{pitch} of the voice");
    }
    // The file tells no hooks apart: every note of the other parts sounds, in order.
    for part in ["Horns", "Bass"] {
        let mut sounding = notes.iter().map(|note| note.written.to_string());
        let expected = pitches(part);
        assert!(expected.len() > 20, "{expected:?}");
        for pitch in expected {
            assert!(sounding.any(|sounds| sounds == pitch), "{pitch} of {part}");
        }
    }
}

#[test]
fn an_arrangement_is_judged_by_the_part_that_was_its_melody() {
    let desk = Desk::new();
    let out = desk.path("boat.musicxml");
    handspan(&format!("arrange {} --melody Voice --out {out}", lead_sheet(SCORE))).succeeded();
    let check = |options: &str| handspan(&format!("check {out} --against {}{options}", lead_sheet(SCORE)));
    check(" --melody Voice").succeeded();
    // Without a choice it is the voice's, though the horns stand first.
    check("").succeeded();
    assert_eq!(check(" --melody Horns").code, 2);
    assert!(check(" --melody Tuba").refused(1).contains("3 “Bass”"));
}

#[test]
fn what_is_neither_command_nor_file_is_told_what_was_meant() {
    assert!(handspan("arange tune.musicxml").refused(1).contains("handspan arrange may have been meant"));
    assert!(handspan("no-such-tune.musicxml").refused(1).contains("neither a command nor a file"));
}
