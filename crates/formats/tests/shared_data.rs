//! Real lead sheets and the unofficial MusicXML test suite, read where they lie outside the repository.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]
#![expect(clippy::print_stdout, reason = "a test that is skipped says so")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use handspan_formats::{ReadError, Severity, load, musicxml};

/// The folder of shared data, or none (said in one line) where it is not there.
fn shared(folder: &str) -> Option<PathBuf> {
    let shared = std::env::var_os("HANDSPAN_SHARED")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared"), PathBuf::from);
    let path = shared.join("data").join(folder);
    if path.is_dir() {
        return Some(path);
    }
    println!("skipped: {} is not there", path.display());
    None
}

fn files(folder: &Path, extensions: &[&str]) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| extensions.contains(&e.to_str().unwrap())))
        .collect();
    files.sort();
    files
}

fn name(path: &Path) -> String {
    path.file_stem().unwrap().to_str().unwrap().to_owned()
}

/// The counts of the manifest, by the stem of the file.
fn manifest(folder: &Path) -> BTreeMap<String, serde_json::Value> {
    let text = fs::read_to_string(folder.join("manifest.jsonl")).unwrap();
    let lines = text.lines().map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap());
    lines.map(|line| (name(Path::new(line["file"].as_str().unwrap())), line)).collect()
}

/// The text of a lead sheet, unpacked where it is compressed.
fn text_of(path: &Path) -> String {
    if path.extension().is_none_or(|e| e != "mxl") {
        return fs::read_to_string(path).unwrap();
    }
    let mut archive = zip::ZipArchive::new(fs::File::open(path).unwrap()).unwrap();
    let names: Vec<String> = archive.file_names().map(|name| name.unwrap().into_owned()).collect();
    let score = names.iter().find(|name| !name.starts_with("META-INF")).unwrap();
    std::io::read_to_string(archive.by_name(score).unwrap()).unwrap()
}

/// Reads a lead sheet and compares it with its line of the manifest.
///
/// The manifest counts written notes: those tied together one by one, and those of chords in the compressed sheets
/// but not in the others.
fn agrees_with_manifest(path: &Path, expected: &serde_json::Value, has_symbols: bool) {
    let bytes = load(path).unwrap();
    assert!(!musicxml::is_written_out(&bytes), "{}", path.display());
    let imported = musicxml::read_tune(&bytes).unwrap();
    let tune = imported.value;
    let (lowest, highest) = tune.melody_range();
    let same = |what: &str, found: serde_json::Value| {
        if !expected[what].is_null() {
            assert_eq!(found, expected[what], "{what} of {}", path.display());
        }
    };
    same("measures", tune.bars().len().into());
    same("quarters", tune.end().quarters().into());
    same("lowest", lowest.midi().into());
    same("highest", highest.midi().into());
    if has_symbols {
        same("chord_symbols", tune.chords().len().into());
    }
    let text = text_of(path);
    let loose = imported
        .diagnostics
        .iter()
        .filter(|d| d.message.starts_with("a tie ends at a note with nothing before it"))
        .count();
    let tied = text.matches("<tie type=\"stop\"").count() - loose;
    let in_chords = text.matches("<chord").count();
    let struck = text.matches("<pitch").count() - tied - in_chords;
    assert_eq!(tune.melody().len(), struck, "{}", path.display());
    same("notes", (struck + tied - in_chords).into());
    assert!(imported.diagnostics.iter().all(|d| d.severity < Severity::Fault));
}

#[test]
fn every_lead_sheet_agrees_with_the_manifest() {
    let Some(folder) = shared("leadsheets") else { return };
    let manifest = manifest(&folder);
    let sheets = files(&folder, &["mxl"]);
    assert_eq!(sheets.len(), 11);
    for path in sheets {
        agrees_with_manifest(&path, &manifest[&name(&path)], true);
    }
}

#[test]
fn every_reference_sheet_agrees_with_the_manifest() {
    let Some(folder) = shared("leadsheets") else { return };
    let manifest = manifest(&folder);
    let sheets = files(&folder.join("reference"), &["musicxml"]);
    assert_eq!(sheets.len(), 44);
    for path in sheets {
        agrees_with_manifest(&path, &manifest[&name(&path)], false);
    }
}

#[test]
fn the_suite_is_read_or_refused_with_a_sentence() {
    let Some(folder) = shared("musicxml-suite") else { return };
    let suite = files(&folder, &["xml", "musicxml", "mxl"]);
    assert_eq!(suite.len(), 146);
    let mut refused = Vec::new();
    for path in suite {
        match musicxml::read_tune(&load(&path).unwrap()) {
            Ok(imported) => assert!(!imported.value.melody().is_empty()),
            Err(ReadError::NoNotes) => {}
            Err(error) => refused.push(format!("{}: {error}", name(&path))),
        }
    }
    // This file is ill-formed; all others are read, or hold no note with a pitch.
    let ill_formed = "32ad-Notations5: line 141, column 3: the file is damaged or no MusicXML (expected 'measure' tag, \
                      not 'part'); export it again from the program that made it";
    assert_eq!(refused, [ill_formed]);
}
