//! A folder to work in, and commands run in it.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

use handspan_cli::{Console, run_on};
use serde_json::Value;
use tempfile::TempDir;

/// What a command said and how it ended.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) code: u8,
    pub(crate) answers: String,
    pub(crate) remarks: String,
}

impl Answer {
    /// The answer as JSON.
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.answers).unwrap_or_else(|e| panic!("{e}: {self:?}"))
    }

    /// Asserts that nothing went wrong.
    pub(crate) fn succeeded(self) -> Self {
        assert_eq!(self.code, 0, "{self:?}");
        self
    }

    /// Asserts that the command ended with a code and its last remark is one sentence; gives it.
    pub(crate) fn refused(&self, code: u8) -> &str {
        assert_eq!(self.code, code, "{self:?}");
        let sentence = self.remarks.lines().last().unwrap_or_default();
        let begins = sentence.starts_with(|c: char| !c.is_lowercase());
        assert!(begins && sentence.ends_with('.') && sentence.contains(' '), "no sentence: {self:?}");
        sentence
    }
}

/// Runs a command line, split at spaces.
pub(crate) fn handspan(line: &str) -> Answer {
    run(line.split_whitespace().map(OsString::from))
}

/// Runs a command with these arguments.
pub(crate) fn run(arguments: impl IntoIterator<Item = OsString>) -> Answer {
    let (mut answers, mut remarks) = (Vec::new(), Vec::new());
    let code = run_on(
        [OsString::from("handspan")].into_iter().chain(arguments),
        &mut Console::new(&mut answers, &mut remarks),
    );
    Answer {
        code,
        answers: String::from_utf8(answers).unwrap(),
        remarks: String::from_utf8(remarks).unwrap(),
    }
}

/// A folder that is gone when the test is over.
#[derive(Debug)]
pub(crate) struct Desk {
    folder: TempDir,
}

impl Desk {
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// The path of a file on the desk, as an argument.
    pub(crate) fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().unwrap().to_owned()
    }

    /// Lays a file on the desk and gives its path.
    pub(crate) fn lay(&self, name: &str, content: impl AsRef<[u8]>) -> String {
        let path = self.path(name);
        fs::write(&path, content).unwrap();
        path
    }

    /// The names of all files on the desk.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.folder.path()).unwrap();
        let mut names: Vec<String> = entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// The demo tunes, without their extension.
pub(crate) const DEMO: [&str; 2] = ["gangway-at-six", "lantern-on-the-quay"];

/// A file of the demo data.
pub(crate) fn demo(name: &str) -> PathBuf {
    let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    workspace.join("demo-data").join(name)
}

/// A demo tune's lead sheet as an argument.
pub(crate) fn lead_sheet(tune: &str) -> String {
    demo(&format!("{tune}.musicxml")).to_str().unwrap().to_owned()
}
