//! Why something could not be measured, as a sentence.

use std::io;
use std::path::PathBuf;

use handspan_formats::ReadError;
use thiserror::Error;

/// Why something could not be measured.
#[derive(Debug, Error)]
pub(crate) enum Fault {
    #[error("{} can't be read: {why}", path.display())]
    Unread { path: PathBuf, why: io::Error },
    #[error("{}, line {line} is not what it should be: {why}", path.display())]
    Line { path: PathBuf, line: usize, why: String },
    #[error("{} is no list of chord shapes: {why}", path.display())]
    Shapes { path: PathBuf, why: serde_json::Error },
    #[error("{} is no lead sheet: {why}", path.display())]
    LeadSheet { path: PathBuf, why: ReadError },
    #[error("{piece}: every grip of bar {bar} can be held alone, and still the search found no way into it")]
    Impasse { piece: String, bar: i64 },
    #[error("{work}: the search finds the cost {found:?}, the plain program {plain:?}")]
    Cost { work: String, found: Option<i64>, plain: Option<i64> },
    #[error("the result could not be written: {0}")]
    Untold(io::Error),
}
