//! Files by their kind: what is opened, saved and exported, with sentences where it cannot be done.

use std::path::{Path, PathBuf};

use handspan_core::arrangement::{Score, Work};

/// The ending of a project file.
pub const PROJECT: &str = "handspan";

/// A work read from a file.
#[derive(Debug)]
pub struct Opened {
    /// The work.
    pub work: Work,
    /// Where it was read.
    pub path: PathBuf,
    /// What could not be kept, a sentence each.
    pub remarks: Vec<String>,
}

/// Whether a path names a project.
pub fn is_project(path: &Path) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case(PROJECT))
}

/// The path with the ending of a project.
pub fn with_project_ending(path: PathBuf) -> PathBuf {
    if is_project(&path) {
        path
    } else {
        path.with_added_extension(PROJECT)
    }
}

/// Reads a project or a lead sheet.
pub fn open(path: &Path) -> Result<Opened, String> {
    Err(format!("{} cannot be opened yet", path.display()))
}

/// Saves a project so that no half-written file can be left.
pub fn save(path: &Path, _work: &Work) -> Result<(), String> {
    Err(format!("{} cannot be saved yet", path.display()))
}

/// Writes the score in the kind that the ending names.
pub fn export(path: &Path, _score: &Score) -> Result<(), String> {
    Err(format!("{} cannot be exported yet", path.display()))
}
