//! The sheets of real arrangements, measured in all layouts: the demo tunes and the shared lead sheets.

#![expect(clippy::unwrap_used, reason = "a test fails loudly")]
#![expect(clippy::print_stdout, reason = "a test that is skipped says so")]

#[path = "../../crates/sheet/tests/measure/mod.rs"]
mod measure;
mod readers;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use handspan_core::arrangement::{Work, arrange};
use handspan_core::plan::Plan;
use handspan_core::watch::Unwatched;
use handspan_formats::musicxml::{PartChoice, read_tune_with};
use measure::{faults, sheets};

fn workspace() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap()
}

/// The files of a folder with this extension, in the order of their names.
fn files(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|e| e == extension)).collect();
    files.sort();
    files
}

/// Arranges the tune of a file and measures its sheets; says whether there is an arrangement.
fn is_engraved_well(file: &Path) -> bool {
    are_parts_engraved_well(file, &PartChoice::default())
}

/// The same with parts of a score as melody, bass line and hook.
fn are_parts_engraved_well(file: &Path, parts: &PartChoice) -> bool {
    let tune = read_tune_with(&fs::read(file).unwrap(), parts).unwrap().value;
    let Ok(arrangement) = arrange(&Work { tune: Arc::new(tune), plan: Plan::default() }, &Unwatched) else {
        return false;
    };
    for (options, sheet) in sheets(&arrangement.score) {
        let faults = faults(&arrangement.score, &options, &sheet);
        assert_eq!(faults, [""; 0], "{}: {options:?}", file.display());
    }
    true
}

#[test]
fn the_demo_tunes_are_engraved_well() {
    let tunes = files(&workspace().join("demo-data"), "musicxml");
    assert!(tunes.len() >= 2 && tunes.iter().all(|file| is_engraved_well(file)));
}

#[test]
fn a_band_score_with_bass_line_and_hook_is_engraved_well() {
    let part = |name: &str| Some(name.to_owned());
    let parts = PartChoice { melody: part("Voice"), bass: part("Bass"), hook: part("Horns") };
    assert!(are_parts_engraved_well(&workspace().join("demo-data/mail-boat-morning.musicxml"), &parts));
}

#[test]
fn the_shared_lead_sheets_are_engraved_well() {
    let shared =
        std::env::var_os("HANDSPAN_SHARED").map_or_else(|| workspace().join("../shared"), PathBuf::from);
    let folder = shared.join("data/leadsheets");
    if !folder.is_dir() {
        println!("skipped: there is no folder {}", folder.display());
        return;
    }
    let tunes = files(&folder, "mxl");
    let engraved = tunes.iter().filter(|file| is_engraved_well(file)).count();
    assert!(engraved * 2 > tunes.len(), "only {engraved} of {} could be arranged", tunes.len());
}
