//! The README shows what the program really answers.

use std::fs;

use crate::desk::{Desk, demo, handspan};

/// The README's blocks of text, each as its lines.
fn blocks() -> Vec<Vec<String>> {
    let readme = fs::read_to_string(demo("../README.md")).unwrap();
    let fenced = readme.split("```").skip(1).step_by(2);
    fenced
        .filter_map(|block| Some(block.strip_prefix("text\n")?.lines().map(str::to_owned).collect()))
        .collect()
}

#[test]
fn the_main_job_answers_as_shown() {
    let readme = fs::read_to_string(demo("../README.md")).unwrap();
    let command = readme.lines().find_map(|line| line.strip_prefix("cargo run --release -- ")).unwrap();
    let desk = Desk::new();
    let tune = demo("gangway-at-six.musicxml");
    let line = command
        .replace("demo-data/gangway-at-six.musicxml", tune.to_str().unwrap())
        .replace("gangway.", &desk.path("gangway."));
    let answer = handspan(&line).succeeded().answers.replace(&desk.path(""), "");
    assert_eq!(answer.lines().collect::<Vec<_>>(), blocks()[0]);
    assert_eq!(desk.names(), ["gangway.musicxml", "gangway.pdf"]);
}

#[test]
fn other_examples_answer_as_shown() {
    let examples = blocks();
    let shown =
        examples.iter().filter_map(|block| Some((block[0].strip_prefix("$ handspan ")?, &block[1..])));
    let mut count = 0;
    for (line, shown) in shown {
        let data = demo("").display().to_string();
        let answer = handspan(&line.replace("demo-data/", &data)).succeeded().answers;
        let answer = answer.replace(&data, "demo-data/");
        let told = shown.iter().take_while(|line| line.trim() != "…");
        for (is, told) in answer.lines().zip(told) {
            assert_eq!(is, told, "{line}");
        }
        count += 1;
    }
    assert!(count > 0, "the README shows no example");
}
