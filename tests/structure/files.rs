//! What lies where: the top level, the first line of every file and its length.

use std::fs;
use std::path::PathBuf;

use crate::source::{rust_files, workspace};

/// Longer than this, a file has more than one concern.
const LONGEST: usize = 500;

fn all_rust_files() -> Vec<PathBuf> {
    let files: Vec<PathBuf> =
        ["crates", "tests"].iter().flat_map(|folder| rust_files(&workspace().join(folder))).collect();
    assert!(files.len() > 30, "only {} files were found", files.len());
    files
}

#[test]
fn every_file_says_what_it_is_for() {
    for file in all_rust_files() {
        let text = fs::read_to_string(&file).unwrap();
        assert!(text.starts_with("//! "), "{} does not begin with //!", file.display());
    }
}

#[test]
fn no_file_is_too_long() {
    for file in all_rust_files() {
        let lines = fs::read_to_string(&file).unwrap().lines().count();
        assert!(lines <= LONGEST, "{} has {lines} lines, more than {LONGEST}", file.display());
    }
}

#[test]
fn the_top_level_holds_only_what_belongs_there() {
    const ALLOWED: [&str; 10] = [
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "assets",
        "crates",
        "demo-data",
        "screenshots",
        "tests",
    ];
    for entry in fs::read_dir(workspace()).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        let built = name == "target";
        assert!(
            built || name.starts_with('.') || ALLOWED.contains(&name.as_str()),
            "{name} does not belong to the top level"
        );
    }
}
