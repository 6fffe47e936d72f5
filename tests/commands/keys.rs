//! `handspan keys`: what is compared, that every row is what arranging that way gives, what is refused.

use std::fs;
use std::sync::Arc;

use handspan_core::arrangement::{Edit, Work};
use handspan_core::grip::BassChoice;
use handspan_core::pitch::PitchClass;
use handspan_core::plan::Plan;
use handspan_core::time::Ticks;
use handspan_formats::{musicxml, project};
use serde_json::Value;

use crate::desk::{Desk, demo, handspan, lead_sheet};

/// The quickest of the demo tunes.
const TUNE: &str = "mail-boat-morning";

/// The rows of a comparison.
fn compared(line: &str) -> Vec<Value> {
    let answer = handspan(&format!("keys {line} --json")).succeeded();
    answer.json().as_array().unwrap().clone()
}

/// Asserts that arranging a file as a row says gives what the row says.
fn arranges_alike(file: &str, row: &Value) {
    let open: Vec<&str> =
        row["open_strings"].as_array().unwrap().iter().map(|note| note.as_str().unwrap()).collect();
    let lie = format!("--transpose {} --capo {} --tuning {}", row["transpose"], row["capo"], open.join(","));
    let arranged = handspan(&format!("arrange {file} {lie} --json")).succeeded().json();
    assert_eq!(arranged["effort"], row["effort"], "{row}");
    assert_eq!(arranged["give_ways"].as_array().unwrap().len() as u64, row["give_ways"], "{row}");
}

/// A project of the tune with a plan of its own.
fn project(desk: &Desk, options: &str) -> String {
    let path = desk.path("plan.handspan");
    handspan(&format!("arrange {} {options} --out {path}", lead_sheet(TUNE))).succeeded();
    path
}

#[test]
fn every_row_is_what_arranging_that_way_gives() {
    let tune = lead_sheet(TUNE);
    let all = compared(&format!("{tune} --tunings standard,DADGAD --capos 1 --all"));
    assert_eq!(all.len(), 12 * 2);
    let searched = all.iter().filter(|row| row["effort"].is_i64()).count();
    assert!(searched >= 12 && all[..searched].iter().all(|row| row["reason"].is_null()));
    for row in [&all[0], &all[7], &all[searched - 1]] {
        arranges_alike(&tune, row);
    }
    for row in &all[searched..] {
        assert!(row["reason"].as_str().unwrap().contains(' ') && row["hardest"].is_null(), "{row}");
    }
    let first = compared(&format!("{tune} --tunings standard --tunings DADGAD --capos 1"));
    assert_eq!(first, all[..12]);
}

#[test]
fn a_row_has_what_other_programs_need() {
    for row in compared(&format!("{} --tunings DADGAD --capos 2", lead_sheet(TUNE))) {
        assert_eq!((row["tuning"].as_str(), row["capo"].as_u64()), (Some("DADGAD"), Some(2)));
        assert_eq!(row["open_strings"], serde_json::json!(["D2", "A2", "D3", "G3", "A3", "D4"]));
        // What is gripped lies a capo lower than what sounds: two fifths.
        let place = |key: &str| {
            let names = ["Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B", "C"];
            let key = row[key].as_str().unwrap().strip_suffix(" major").unwrap().replace("F#", "Gb");
            names.iter().position(|name| *name == key).unwrap()
        };
        assert_eq!((place("gripped_as") + 2) % 12, place("key"), "{row}");
        let number = |key: &str| row[key].as_i64().unwrap();
        assert_eq!((place("key") as i64 - 6 - number("transpose")) % 12, 0, "{row}");
        assert!(number("basses") >= number("open_basses") && number("inner_notes") >= 0, "{row}");
        // From the lowest open string to the highest fret there are 24 and 17 semitones.
        let melody = 41 - number("room_below") - number("room_above");
        assert!((8..=24).contains(&melody) && (0..=17).contains(&number("highest_fret")), "{row}");
        let hardest = &row["hardest"];
        assert!(
            hardest["effort"].is_i64() && hardest["bar"].is_string() && hardest["beat"].is_f64(),
            "{row}"
        );
    }
}

#[test]
fn the_aim_says_what_comes_first() {
    let rows = compared(&format!("{} --tunings standard --capos 0 --aim gentlest", lead_sheet(TUNE)));
    let hardest: Vec<i64> = rows.iter().map(|row| row["hardest"]["effort"].as_i64().unwrap()).collect();
    assert!(hardest.len() == 12 && hardest.is_sorted() && hardest[0] < hardest[11], "{hardest:?}");
}

#[test]
fn the_table_says_how_to_take_the_first_row() {
    let desk = Desk::new();
    let options = "--tunings DADGAD --capos 2-3 --hand small --melody Voice";
    let answer = handspan(&format!("keys {} {options}", lead_sheet(TUNE))).succeeded().answers;
    let lines: Vec<&str> = answer.lines().collect();
    assert!(
        lines[0].starts_with("Mail Boat Morning in 12 keys, 1 tuning and 2 capo positions, "),
        "{answer}"
    );
    assert!(lines[0].contains("here are 12 of 24"), "{answer}");
    assert!(lines[3].starts_with(" 1  ") && lines[14].starts_with("12  "), "{answer}");
    let command = lines.last().unwrap().strip_prefix("To take the first: handspan ").unwrap();
    assert!(command.contains(" --melody Voice --hand small --transpose "), "{command}");
    let piece = desk.path("piece.pdf");
    let arranged = handspan(&command.replace("piece.pdf", &piece)).succeeded().answers;
    let effort = arranged.split("effort ").nth(1).unwrap().split(',').next().unwrap();
    assert!(lines[3].split_whitespace().any(|cell| cell == effort), "{effort} in {answer}");
    assert!(fs::exists(piece).unwrap());
}

#[test]
fn what_is_left_out_is_counted_or_listed_with_its_reason() {
    // So few strings, so far up, that many keys leave no room for a bass and some none for the melody.
    let line = format!("keys {} --tunings D3,G3,B3,E4 --capos 9-12", lead_sheet(TUNE));
    let short = handspan(&line).succeeded().answers;
    let all = handspan(&format!("{line} --all")).succeeded().answers;
    let listed = |reason: &str| all.lines().filter(|line| line.contains(reason)).count();
    let (basses, range) = (listed("  at least "), listed("  not all of the melody lies on the neck"));
    assert!(basses > 0 && range > 0, "{all}");
    let counted = format!(
        "\nLeft out: {basses} where more basses would have to give way than in the best (not searched), {range} where \
         not all of the melody lies on the neck.\n"
    );
    assert!(short.contains(&counted) && !all.contains("Left out"), "{short}");
}

#[test]
fn the_plan_of_a_project_is_used() {
    let desk = Desk::new();
    let tuning = "D3,G3,B3,E4";
    let project =
        project(&desk, &format!("--tuning {tuning} --capo 1 --hand small --aim gentlest --melody Voice"));
    let by_plan = compared(&format!("{project} --capos 0"));
    let by_options = format!("{} --tunings {tuning} --capos 0 --hand small --aim gentlest", lead_sheet(TUNE));
    assert_eq!(by_plan, compared(&by_options));
    assert_ne!(by_plan, compared(&format!("{project} --capos 0 --hand large")));
}

#[test]
fn locked_basses_move_along() {
    let tune = musicxml::read_tune(&fs::read(demo(&format!("{TUNE}.musicxml"))).unwrap()).unwrap().value;
    let mut work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let third = BassChoice::Class(PitchClass::from_semitones(11));
    let at = work.tune.chords()[0].at;
    Edit::Bass { at, bass: Some(third) }.apply(&mut work);
    let desk = Desk::new();
    let project = desk.lay("locked.handspan", project::write(&work));
    let [locked, free] =
        [&project, &lead_sheet(TUNE)].map(|file| compared(&format!("{file} --tunings standard --capos 0")));
    assert!(at == Ticks::ZERO && locked != free);
    arranges_alike(&project, &locked[0]);
}

#[test]
fn locked_grips_do_not_outlive_their_key_and_that_is_said() {
    let tune = musicxml::read_tune(&fs::read(demo(&format!("{TUNE}.musicxml"))).unwrap()).unwrap().value;
    let mut work = Work { tune: Arc::new(tune), plan: Plan::default() };
    let found = handspan_core::arrangement::arrange(&work, &handspan_core::watch::Unwatched).unwrap();
    let first = found.moments[0];
    Edit::Grip { at: first.at, grip: Some(first.grip.only(first.struck)) }.apply(&mut work);
    let desk = Desk::new();
    let project = desk.lay("locked.handspan", project::write(&work));
    let remarks = |options: &str| {
        let answer = handspan(&format!("arrange {project} --json {options}")).succeeded().json();
        answer["remarks"].as_array().unwrap().iter().any(|r| r.as_str().unwrap().starts_with("1 lock of"))
    };
    assert!(remarks("--transpose -2") && !remarks("--hand large"));
}

#[test]
fn what_cannot_be_compared_is_said() {
    let desk = Desk::new();
    let study = desk.path("study.handspan");
    handspan(&format!("finger {} --out {study}", lead_sheet("ropewalk-study"))).succeeded();
    assert!(handspan(&format!("keys {study}")).refused(2).contains("written out for the guitar already"));
    let narrow = handspan(&format!("keys {} --tunings E4,E4,E4,E4 --capos 14", lead_sheet(TUNE)));
    assert!(narrow.refused(2).contains("its range is too wide"), "{narrow:?}");
}

#[test]
fn options_that_make_no_sense_are_the_players_fault() {
    for (options, why) in [
        ("--capos 4-0", "capo positions are a fret like 2"),
        ("--capos -1", "capo positions are a fret like 2"),
        ("--capos 3-15", "leaves too little neck"),
        ("--tunings standard,nonsense", "a tuning is one of standard, drop D"),
        ("--tunings standard;D3,G3,B3,E4", "“standard” has 6 strings and “D G B E” 4"),
        ("--melody Tuba", "3 “Bass”"),
    ] {
        let answer = handspan(&format!("keys {} {options}", lead_sheet(TUNE)));
        assert!(answer.refused(1).contains(why), "{options}: {answer:?}");
        assert!(answer.answers.is_empty(), "{answer:?}");
    }
}
