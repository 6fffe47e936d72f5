//! The PDF in the eyes of other programs: whole, with its fonts, its words found, small.
//!
//! The programs are qpdf and poppler's tools; a check whose program is not installed says so in one line.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use handspan_core::arrangement::{Work, arrange};
use handspan_core::plan::Plan;
use handspan_core::watch::Unwatched;
use handspan_formats::musicxml::read_tune;
use handspan_sheet::write::pdf::pdf;
use handspan_sheet::{Layout, Print, SheetOptions, engrave};

use crate::workspace;

/// What a program prints about a file, if it is installed.
fn ask(program: &str, arguments: &[&str]) -> Option<String> {
    match Command::new(program).args(arguments).output() {
        Ok(answer) => {
            let said = String::from_utf8_lossy(&answer.stderr);
            assert!(answer.status.success(), "{program} {arguments:?}: {said}");
            Some(String::from_utf8_lossy(&answer.stdout).into_owned())
        }
        Err(fault) if fault.kind() == ErrorKind::NotFound => {
            println!("skipped: {program} is not installed");
            None
        }
        Err(fault) => panic!("{program}: {fault}"),
    }
}

/// The first demo tune in large print, with its practice page: four pages or more.
fn demo(folder: &Path) -> (String, usize, usize) {
    let file = workspace().join("demo-data/gangway-at-six.musicxml");
    let tune = Arc::new(read_tune(&fs::read(file).unwrap()).unwrap().value);
    let arrangement = arrange(&Work { tune, plan: Plan::default() }, &Unwatched).unwrap();
    let options = SheetOptions {
        layout: Layout::StaffAndTablature,
        print: Print::Large,
        practice: true,
        ..SheetOptions::default()
    };
    let sheet = engrave(&arrangement.score, &options);
    let bytes = pdf(&sheet).unwrap();
    assert_eq!(pdf(&sheet).unwrap(), bytes, "the same sheet gives the same bytes");
    let path = folder.join("sheet.pdf");
    fs::write(&path, &bytes).unwrap();
    (path.to_str().unwrap().to_owned(), bytes.len(), sheet.pages.len())
}

#[test]
fn other_programs_read_the_pdf() {
    let folder = tempfile::tempdir().unwrap();
    let (path, bytes, pages) = demo(folder.path());
    assert!(pages >= 4 && bytes < 50_000 * pages, "{bytes} bytes for {pages} pages");
    let _whole = ask("qpdf", &["--check", &path]);
    if let Some(text) = ask("pdftotext", &[&path, "-"]) {
        for words in ["Gangway at Six", "A2", "Cmaj7", "E7♭9", "Bm7♭5", "Tuning: standard", "Practice"] {
            assert!(text.contains(words), "{words} is not in the text");
        }
    }
    if let Some(facts) = ask("pdfinfo", &[&path]) {
        for fact in ["Gangway at Six", "Maro Quillane", "Tagged:          yes"] {
            assert!(facts.contains(fact), "{fact}: {facts}");
        }
    }
    if let Some(structure) = ask("pdfinfo", &["-struct-text", &path]) {
        for tag in ["H1 (block)\n    \"Gangway at Six\"", "H2 (block)\n    \"A\"", "Figure"] {
            assert!(structure.contains(tag), "{tag}");
        }
    }
    if let Some(fonts) = ask("pdffonts", &[&path]) {
        let fonts: Vec<&str> = fonts.lines().skip(2).collect();
        assert_eq!(fonts.len(), 4, "{fonts:?}");
        for font in fonts {
            // Six letters and a plus before its name mark a subset (PDF 1.7, ISO 32000-1, 9.6.4).
            assert_eq!(font.find('+'), Some(6), "{font}");
            let columns: Vec<&str> = font.split_whitespace().rev().collect();
            assert_eq!(columns[2..5], ["yes", "yes", "yes"], "{font}");
        }
    }
}
