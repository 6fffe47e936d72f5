//! Ten files that are no tune: each gives a sentence and exit code 1, whichever command reads it.

use std::fs::{self, File};

use crate::desk::{DEMO, Desk, handspan, lead_sheet};

/// Every command that reads a file refuses it with a sentence that says why.
fn refused(path: &str, why: &str) {
    let desk = Desk::new();
    for line in [
        format!("arrange {path} --out {}", desk.path("out.musicxml")),
        format!("arrange {path} --json"),
        format!("keys {path}"),
        format!("check {path}"),
    ] {
        let answer = handspan(&line);
        answer.refused(1);
        let said = &answer.remarks;
        let is_about_it = line.starts_with("check") || said.to_lowercase().contains(why);
        assert!(is_about_it, "{line} should say “{why}”: {said}");
        assert!(answer.answers.is_empty(), "{line}: {answer:?}");
    }
    assert!(desk.names().is_empty());
}

fn tune() -> String {
    fs::read_to_string(lead_sheet(DEMO[0])).unwrap()
}

#[test]
fn a_truncated_file() {
    let (desk, tune) = (Desk::new(), tune());
    refused(&desk.lay("truncated.musicxml", &tune[..tune.len() / 2]), "line ");
}

#[test]
fn no_xml() {
    let desk = Desk::new();
    refused(&desk.lay("list.musicxml", "milk, strings, coffee\n"), "line 1");
}

#[test]
fn the_wrong_root() {
    let desk = Desk::new();
    refused(&desk.lay("page.musicxml", "<html><body>A tune</body></html>"), "<html>");
}

#[test]
fn no_notes() {
    let desk = Desk::new();
    let text = tune();
    let (head, _) = text.split_once("<measure").unwrap();
    let rest =
        "<measure number=\"1\"><note><rest/><duration>1</duration></note></measure></part></score-partwise>";
    refused(&desk.lay("rests.musicxml", format!("{head}{rest}")), "melody");
}

#[test]
fn absurd_numbers() {
    let desk = Desk::new();
    for (was, is) in [
        ("<divisions>2<", "<divisions>0<"),
        ("<divisions>2<", "<divisions>99999999999999999999<"),
        ("<beats>4<", "<beats>4000000000<"),
        ("<octave>5<", "<octave>-77<"),
        ("<duration>2<", "<duration>1e300<"),
    ] {
        let absurd = tune().replacen(was, is, 1);
        assert!(absurd.contains(is));
        refused(&desk.lay("absurd.musicxml", absurd), "");
    }
}

#[test]
fn an_empty_file() {
    let desk = Desk::new();
    refused(&desk.lay("empty.musicxml", ""), "empty");
}

#[test]
fn a_folder() {
    let desk = Desk::new();
    let folder = desk.path("folder.musicxml");
    fs::create_dir(&folder).unwrap();
    refused(&folder, "folder");
}

#[test]
fn no_file_at_all() {
    refused(&Desk::new().path("nowhere.musicxml"), "no such file");
}

#[cfg(unix)]
#[test]
fn a_file_that_may_not_be_read() {
    use std::os::unix::fs::PermissionsExt as _;
    let desk = Desk::new();
    let path = desk.lay("secret.musicxml", tune());
    fs::set_permissions(&path, fs::Permissions::from_mode(0o000)).unwrap();
    if File::open(&path).is_ok() {
        println!("skipped: this user may read every file, so no file can be forbidden");
        return;
    }
    refused(&path, "permission");
}

#[test]
fn an_unknown_kind_of_chord() {
    let desk = Desk::new();
    let unknown = tune().replacen(">minor-seventh<", ">quite-mysterious<", 1);
    refused(&desk.lay("unknown.musicxml", unknown), "quite-mysterious");
}

#[test]
fn a_single_line_of_two_megabytes() {
    let desk = Desk::new();
    refused(&desk.lay("line.musicxml", "x".repeat(2_000_000)), "line 1");
    refused(&desk.lay("deep.musicxml", "<a>".repeat(700_000)), "");
}

#[test]
fn broken_projects() {
    let desk = Desk::new();
    for (name, content) in [("empty", ""), ("noise", "no project"), ("newer", "(version: 9999)")] {
        let path = desk.lay(&format!("{name}.handspan"), content);
        handspan(&format!("arrange {path}")).refused(1);
    }
}
