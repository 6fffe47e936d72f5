//! `handspan voicings`: what is listed, how it is explained, what is refused.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::desk::handspan;

fn list(line: &str) -> Vec<Value> {
    let answer = handspan(&format!("voicings {line} --json")).succeeded();
    answer.json().as_array().unwrap().clone()
}

fn numbers(value: &Value) -> Vec<i64> {
    value.as_array().unwrap().iter().map(|n| n.as_i64().unwrap()).collect()
}

#[test]
fn every_voicing_has_the_melody_on_top_and_the_bass_beneath() {
    const OPEN: [i64; 6] = [40, 45, 50, 55, 59, 64];
    let all = list("--chord Cmaj7 --melody E5 --bass C --all");
    assert!(all.len() > 5, "only {}", all.len());
    for voicing in &all {
        let notes = numbers(&voicing["notes"]);
        assert!((3..=5).contains(&notes.len()), "{voicing}");
        assert_eq!(notes.iter().max(), Some(&76), "{voicing}");
        assert_eq!(notes.iter().min().unwrap() % 12, 0, "{voicing}");
        let frets = voicing["frets"].as_array().unwrap();
        let fingers = voicing["fingers"].as_array().unwrap();
        assert_eq!((frets.len(), fingers.len()), (6, 6));
        let sounding = frets.iter().zip(OPEN).filter_map(|(fret, open)| Some(open + fret.as_i64()?));
        assert_eq!(sounding.collect::<Vec<_>>(), notes, "{voicing}");
        for (fret, finger) in frets.iter().zip(fingers) {
            assert_eq!(fret.is_null(), finger.is_null(), "{voicing}");
            assert_eq!(fret == 0, finger == 0, "{voicing}");
        }
    }
    let written: BTreeSet<String> = all.iter().map(|v| v["frets"].to_string()).collect();
    assert_eq!(written.len(), all.len(), "some voicing is listed twice");
}

#[test]
fn the_terms_add_up_to_the_effort_and_the_easiest_comes_first() {
    for line in ["--chord Am7 --melody G4 --all", "--chord D7 --melody F#4 --after x02010 --all"] {
        let all = list(line);
        for voicing in &all {
            let terms = voicing["terms"].as_object().unwrap();
            let sum: i64 = terms.values().map(|points| points.as_i64().unwrap()).sum();
            assert_eq!(voicing["effort"], sum, "{voicing}");
        }
        assert!(all.is_sorted_by_key(|v| v["effort"].as_i64().unwrap()), "{line}");
    }
}

#[test]
fn the_move_from_the_grip_before_is_a_term() {
    let first = list("--chord D7 --melody F#4 --after x02010").swap_remove(0);
    let alone = list("--chord D7 --melody F#4 --all");
    let same = alone.iter().find(|v| v["frets"] == first["frets"]).unwrap();
    assert_ne!(same["terms"], first["terms"]);
}

#[test]
fn orders_put_their_own_first() {
    let open = |v: &Value| v["frets"].as_array().unwrap().iter().filter(|f| **f == 0).count();
    let all = list("--chord G --melody B4 --bass free --order most-open --all");
    assert!(all.is_sorted_by(|a, b| open(a) >= open(b)));
    let all = list("--chord G --melody B4 --order fullest --all");
    assert!(all.is_sorted_by(|a, b| numbers(&a["notes"]).len() >= numbers(&b["notes"]).len()));
}

#[test]
fn twenty_are_listed_and_all_on_request() {
    let answer = handspan("voicings --chord Em7 --melody G4 --bass free").succeeded();
    assert_eq!(answer.answers.lines().count(), 22, "{}", answer.answers);
    let all = handspan("voicings --chord Em7 --melody G4 --bass free --all").succeeded();
    assert!(all.answers.lines().count() > 22);
    assert!(answer.answers.starts_with("Em7 with G4 on top, any bass, 3 to 5 notes: "), "{}", answer.answers);
}

#[test]
fn tuning_capo_and_exact_basses_are_kept() {
    for voicing in list("--chord D --melody A4 --bass D2 --tuning DADGAD --all") {
        assert_eq!(numbers(&voicing["notes"])[0], 38);
        assert_eq!(voicing["frets"][0], 0);
    }
    for voicing in list("--chord A --melody C#5 --capo 2 --all") {
        let frets = voicing["frets"].as_array().unwrap();
        let lowest = numbers(&voicing["notes"])[0];
        let open = [42, 47, 52, 57, 61, 66];
        let first = frets.iter().position(|f| !f.is_null()).unwrap();
        assert_eq!(open[first] + frets[first].as_i64().unwrap(), lowest);
    }
}

#[test]
fn what_cannot_be_had_is_said() {
    let beyond = handspan("voicings --chord C --melody E7");
    assert!(beyond.refused(2).contains("lies nowhere"));
    let below = handspan("voicings --chord C --melody E2 --bass C");
    assert!(below.refused(2).contains("bass"));
    let wide = handspan("voicings --chord C --melody E5 --bass F2");
    assert!(wide.refused(2).contains("no hand"), "{wide:?}");
    let few = handspan("voicings --chord C13 --melody E5 --notes 3");
    assert!(few.refused(2).contains("needs at least 4 notes"), "{few:?}");
}

#[test]
fn options_that_make_no_sense_are_the_players_fault() {
    for line in [
        "voicings --chord Cmaj7",
        "voicings --chord Qmaj7 --melody E5",
        "voicings --chord N.C. --melody E5",
        "voicings --chord C --melody 5",
        "voicings --chord C --melody E5 --notes 5-3",
        "voicings --chord C --melody E5 --tuning nonsense",
        "voicings --chord C --melody E5 --capo 30",
        "voicings --chord C --melody E5 --hand tiny",
        "voicings --chord C --melody E5 --after x3",
        "voicings --chord C --melody E5 --after x3201",
        "voicings --chord C --melody E5 --after 1-12-1-12-1-12",
        "voicings --chord C --melody E5 --order backwards",
        "nonsense",
        "",
    ] {
        let answer = handspan(line);
        assert_eq!(answer.code, 1, "{line}: {answer:?}");
        assert!(answer.answers.is_empty() && !answer.remarks.is_empty(), "{line}: {answer:?}");
    }
}

#[test]
fn a_misread_option_is_one_sentence() {
    let answer = handspan("voicings --chord Qmaj7 --melody E5");
    assert!(answer.refused(1).starts_with("--chord <CHORD> can't be “Qmaj7”: "), "{answer:?}");
    assert_eq!(answer.remarks.lines().count(), 1, "{answer:?}");
}

#[test]
fn help_is_worth_reading() {
    for line in ["--help", "arrange --help", "keys --help", "voicings --help", "check --help"] {
        let answer = handspan(line).succeeded();
        assert!(answer.answers.contains("Examples:"), "{line}");
    }
    assert!(handspan("--version").succeeded().answers.starts_with("handspan "));
}
