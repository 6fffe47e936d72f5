//! What `handspan arrange` puts on paper: layouts, sizes, mirrored boxes, letters that the fonts lack.

use std::fs;

use crate::desk::{DEMO, Desk, handspan, lead_sheet};

/// The pages that the options give, as SVG.
fn pages(options: &str) -> Vec<String> {
    let desk = Desk::new();
    handspan(&format!("arrange {} {options} --out {}", lead_sheet(DEMO[0]), desk.path("p.svg"))).succeeded();
    desk.names().into_iter().map(|name| fs::read_to_string(desk.path(&name)).unwrap()).collect()
}

fn groups(pages: &[String], label: &str) -> usize {
    pages.iter().map(|page| page.matches(&format!("aria-label=\"{label}\"")).count()).sum()
}

#[test]
fn every_layout_is_another_sheet() {
    let layouts =
        ["tablature", "staff-and-tablature", "staff"].map(|name| pages(&format!("--layout {name}")));
    for sheet in &layouts {
        assert!(groups(sheet, "system") > 4 && groups(sheet, "chord") == 0);
    }
    assert!(layouts[0] != layouts[1] && layouts[1] != layouts[2] && layouts[0] != layouts[2]);
    assert_eq!(layouts[0], pages(""));
}

#[test]
fn chord_boxes_stand_on_one_page() {
    let boxes = pages("--layout boxes");
    assert_eq!(boxes.len(), 1);
    assert_eq!(groups(&boxes, "system"), 0);
    assert!(groups(&boxes, "chord") > 10);
    assert_eq!(groups(&boxes, "chord"), groups(&boxes, "chord box"));
}

#[test]
fn large_print_takes_more_pages() {
    let layout = "--layout staff-and-tablature --print";
    assert!(pages(&format!("{layout} large")).len() > pages(&format!("{layout} normal")).len());
}

#[test]
fn boxes_are_mirrored_for_the_left_handed() {
    let (right, left) = (pages("--layout boxes"), pages("--layout boxes --left-handed-boxes"));
    assert_ne!(right, left);
    assert_eq!(groups(&right, "chord box"), groups(&left, "chord box"));
}

#[test]
fn letters_that_the_fonts_lack_are_named() {
    let desk = Desk::new();
    let tune = fs::read_to_string(lead_sheet(DEMO[0])).unwrap().replace("Gangway at Six", "Gangway 堰");
    let strange = desk.lay("strange.musicxml", tune);
    let paper = handspan(&format!("arrange {strange} --out {}", desk.path("a.pdf"))).succeeded();
    assert!(paper.remarks.contains("lack 堰"), "{paper:?}");
    let none = handspan(&format!("arrange {strange} --out {}", desk.path("a.handspan"))).succeeded();
    assert!(!none.remarks.contains('堰'), "{none:?}");
}

#[test]
fn a_handout_has_some_bars_and_what_the_teacher_says() {
    let handout = pages("--bars 5-8 --remark=6:listen");
    assert_eq!(handout.len(), 1);
    assert!(groups(&handout, "system") < groups(&pages(""), "system"));
    assert!(handout[0].contains("Bar 6: listen") && handout[0].contains("Bars 5–8"));
}

#[test]
fn a_practice_page_follows_on_request() {
    let (without, with) = (pages(""), pages("--practice"));
    assert_eq!(with.len(), without.len() + 1);
    assert_eq!(groups(&with, "move"), 6);
}

#[test]
fn bars_that_are_not_there_are_refused_before_anything_is_written() {
    for (options, words) in [
        ("--bars 5-900", "no bar 900"),
        ("--bars 8-5", "ends before it begins"),
        ("--bars 5-8 --remark=9:slow", "would not be printed"),
        ("--remark=slow", "“slow” is not"),
    ] {
        let desk = Desk::new();
        let refused =
            handspan(&format!("arrange {} {options} --out {}", lead_sheet(DEMO[0]), desk.path("p.pdf")));
        assert!(refused.refused(1).contains(words), "{refused:?}");
        assert_eq!(desk.names(), [""; 0]);
    }
}

#[test]
fn pages_become_pictures() {
    let desk = Desk::new();
    handspan(&format!("arrange {} --out {}", lead_sheet(DEMO[0]), desk.path("p.png"))).succeeded();
    let picture = fs::read(desk.path("p-1.png")).unwrap();
    assert!(picture.starts_with(b"\x89PNG"));
}
