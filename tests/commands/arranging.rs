//! `handspan arrange`: what is written, what is reported, what is refused.

use std::fs;

use serde_json::Value;

use crate::desk::{DEMO, Desk, handspan, lead_sheet};

fn arranged(line: &str) -> Value {
    handspan(&format!("arrange {line} --json")).succeeded().json()
}

#[test]
fn the_report_has_what_other_programs_need() {
    for tune in DEMO {
        let report = arranged(&lead_sheet(tune));
        assert_eq!(report["outcome"], "proven");
        assert_eq!(report["transpose"], 0);
        assert!(report["moments"].as_u64().unwrap() > 50, "{report}");
        assert!(report["effort"].is_i64(), "{report}");
        for give_way in report["give_ways"].as_array().unwrap() {
            assert!(give_way["bar"].is_string() && give_way["beat"].as_f64().unwrap() >= 1.0, "{give_way}");
            assert!(["bass", "inner voice"].contains(&give_way["part"].as_str().unwrap()), "{give_way}");
            assert!(give_way["reason"].as_str().unwrap().contains(' '), "{give_way}");
        }
    }
}

#[test]
fn every_kind_of_file_is_written() {
    let desk = Desk::new();
    let outs: String = ["a.musicxml", "b.pdf", "c.svg", "d.handspan"]
        .map(|name| format!(" --out {}", desk.path(name)))
        .concat();
    let report = arranged(&format!("{}{outs} --paper letter", lead_sheet(DEMO[0])));
    let begins = |name: &str, with: &str| {
        let bytes = fs::read(desk.path(name)).unwrap();
        assert!(bytes.starts_with(with.as_bytes()), "{name}");
    };
    begins("a.musicxml", "<?xml");
    begins("b.pdf", "%PDF");
    begins("d.handspan", "// A Handspan project");
    let pages: Vec<String> = desk.names().into_iter().filter(|name| name.starts_with('c')).collect();
    assert!(pages == ["c.svg"] || pages[..2] == ["c-1.svg", "c-2.svg"], "{pages:?}");
    assert_eq!(report["written"].as_array().unwrap().len(), 3 + pages.len());
}

#[test]
fn a_project_arranges_to_the_same_piece() {
    let desk = Desk::new();
    let (first, project, second) =
        (desk.path("1.musicxml"), desk.path("p.handspan"), desk.path("2.musicxml"));
    let options = "--transpose -2 --tuning DADGAD --hand large";
    handspan(&format!("arrange {} {options} --out {first} --out {project}", lead_sheet(DEMO[1]))).succeeded();
    handspan(&format!("arrange {project} --out {second}")).succeeded();
    assert_eq!(fs::read_to_string(first).unwrap(), fs::read_to_string(second).unwrap());
}

#[test]
fn the_same_tune_gives_the_same_bytes() {
    let desk = Desk::new();
    let write = |name: &str| {
        let path = desk.path(name);
        handspan(&format!("arrange {} --out {path}", lead_sheet(DEMO[0]))).succeeded();
        fs::read(path).unwrap()
    };
    assert_eq!(write("1.pdf"), write("2.pdf"));
}

#[test]
fn a_melody_beyond_the_guitar_is_refused_with_what_would_do() {
    let answer = handspan(&format!("arrange {} --transpose 30 --json", lead_sheet(DEMO[0])));
    answer.refused(2);
    let report = answer.json();
    assert_eq!(report["outcome"], "impossible");
    assert!(report["reason"].as_str().unwrap().contains("bar "), "{report}");
    let ways = report["transpositions"].as_array().unwrap();
    let way = ways.first().unwrap().as_i64().unwrap();
    arranged(&format!("{} --transpose {way}", lead_sheet(DEMO[0])));
}

#[test]
fn nothing_is_written_when_the_tune_cannot_be_arranged() {
    let desk = Desk::new();
    let out = desk.path("piece.musicxml");
    handspan(&format!("arrange {} --transpose 30 --out {out}", lead_sheet(DEMO[0]))).refused(2);
    assert!(desk.names().is_empty());
}

#[test]
fn the_tune_itself_is_never_overwritten() {
    let desk = Desk::new();
    let before = fs::read(lead_sheet(DEMO[0])).unwrap();
    let tune = desk.lay("tune.musicxml", &before);
    let answer = handspan(&format!("arrange {tune} --out {tune}"));
    assert!(answer.refused(1).contains("destroy"), "{answer:?}");
    assert_eq!(fs::read(tune).unwrap(), before);
}

#[test]
fn unwritable_and_unknown_outputs_are_refused() {
    let desk = Desk::new();
    let tune = lead_sheet(DEMO[0]);
    handspan(&format!("arrange {tune} --out {}", desk.path("no/such/folder/a.pdf"))).refused(1);
    let answer = handspan(&format!("arrange {tune} --out {}", desk.path("a.doc")));
    assert_eq!(answer.code, 1);
    assert!(answer.remarks.contains(".musicxml, .pdf, .svg, .png or .handspan"), "{answer:?}");
    assert!(desk.names().is_empty());
}

#[test]
fn options_that_cannot_be_meant_are_told_in_words() {
    let refused = |options: &str| {
        let answer = handspan(&format!("arrange {} {options}", lead_sheet(DEMO[0])));
        answer.refused(1).to_owned()
    };
    assert!(refused("--capo -1").contains("a capo sits at a fret"));
    assert!(refused("--transpose 200").contains("60 up or down at the most"));
    assert!(refused("--tuning drop D").contains("put several words in quotes"));
    assert!(refused("--out /no-such-folder/piece.pdf").contains("there is no such folder"));
}
