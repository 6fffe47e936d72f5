//! `handspan check`: a true piece passes, a spoilt one is told bar by bar.

use std::fs;

use crate::desk::{DEMO, Desk, handspan, lead_sheet};

/// A demo tune arranged onto the desk.
fn piece(desk: &Desk, tune: &str, options: &str) -> String {
    let path = desk.path("piece.musicxml");
    handspan(&format!("arrange {} {options} --out {path}", lead_sheet(tune))).succeeded();
    path
}

#[test]
fn what_was_arranged_breaks_no_rule() {
    for tune in DEMO {
        for (options, against) in [("", ""), ("--transpose -2 --capo 1", "--transpose -2")] {
            let desk = Desk::new();
            let path = piece(&desk, tune, options);
            let answer =
                handspan(&format!("check {path} --against {} {against}", lead_sheet(tune))).succeeded();
            assert_eq!(answer.answers, "No rule is broken.\n");
        }
    }
}

#[test]
fn a_changed_fret_is_found_with_its_bar() {
    let desk = Desk::new();
    let path = piece(&desk, DEMO[0], "");
    let text = fs::read_to_string(&path).unwrap();
    let at = text.rfind("<fret>").unwrap();
    let spoilt = format!("{}<fret>11</fret>{}", &text[..at], &text[at..].split_once("</fret>").unwrap().1);
    let spoilt = desk.lay("spoilt.musicxml", spoilt);
    let answer = handspan(&format!("check {spoilt}"));
    assert!(answer.refused(2).contains("broken"), "{answer:?}");
    assert!(answer.answers.lines().all(|line| line.starts_with("bar ")), "{answer:?}");
}

#[test]
fn another_melody_is_found() {
    let desk = Desk::new();
    let path = piece(&desk, DEMO[0], "");
    let answer = handspan(&format!("check {path} --against {} --transpose 1", lead_sheet(DEMO[0])));
    answer.refused(2);
    assert!(answer.answers.contains("melody"), "{answer:?}");
}

#[test]
fn a_lead_sheet_and_a_project_are_no_arrangement() {
    let desk = Desk::new();
    handspan(&format!("check {}", lead_sheet(DEMO[0]))).refused(1);
    let project = desk.path("p.handspan");
    handspan(&format!("arrange {} --out {project}", lead_sheet(DEMO[0]))).succeeded();
    assert!(handspan(&format!("check {project}")).refused(1).contains("project"));
}
