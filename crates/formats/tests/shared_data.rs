//! Real lead sheets and the unofficial MusicXML test suite, read where they lie outside the repository.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use handspan_formats::{ReadError, load, musicxml};

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

#[test]
fn every_lead_sheet_agrees_with_the_manifest() {
    let Some(folder) = shared("leadsheets") else {
        return;
    };
    let manifest = manifest(&folder);
    let sheets = files(&folder, &["mxl"]);
    assert_eq!(sheets.len(), 11);
    for path in sheets {
        let expected = &manifest[&name(&path)];
        let tune = musicxml::read_tune(&load(&path).unwrap()).unwrap().value;
        let (lowest, highest) = tune.melody_range();
        let found = serde_json::json!({
            "notes": tune.melody().len(),
            "chord_symbols": tune.chords().len(),
            "measures": tune.bars().len(),
            "quarters": tune.end().quarters(),
            "lowest": lowest.midi(),
            "highest": highest.midi(),
        });
        for (what, found) in found.as_object().unwrap() {
            assert_eq!(found, &expected[what], "{what} of {}", path.display());
        }
    }
}

#[test]
fn every_reference_sheet_agrees_with_the_manifest() {
    let Some(folder) = shared("leadsheets") else {
        return;
    };
    let manifest = manifest(&folder);
    let sheets = files(&folder.join("reference"), &["musicxml"]);
    assert_eq!(sheets.len(), 44);
    for path in sheets {
        let expected = &manifest[&name(&path)];
        let imported = musicxml::read_tune(&load(&path).unwrap()).unwrap();
        let tune = imported.value;
        println!(
            "{} {} {} | {} {} | {} {}",
            name(&path),
            tune.melody().len(),
            expected["notes"],
            tune.bars().len(),
            expected["measures"],
            tune.end().quarters(),
            expected["quarters"]
        );
        for d in imported.diagnostics {
            println!("   {d}");
        }
    }
}

#[test]
fn the_suite_is_read_or_refused_with_a_sentence() {
    let Some(folder) = shared("musicxml-suite") else {
        return;
    };
    let suite = files(&folder, &["xml", "musicxml", "mxl"]);
    assert_eq!(suite.len(), 146);
    for path in suite {
        match musicxml::read_tune(&load(&path).unwrap()) {
            Ok(i) => {
                println!("{} ok", name(&path));
                for d in i.diagnostics {
                    println!("   {d}");
                }
            }
            Err(e) => println!("{} ERR {e}", name(&path)),
        }
    }
    let _ = ReadError::Empty;
}
