//! The parts of a score, and which of them are read as what.

use handspan_core::tune::Line;

use super::document;
use super::report::shortened;
use crate::error::ReadError;
use crate::musicxml::container;

/// A part of a score.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ScorePart {
    /// What it is called in the score's list.
    pub name: Option<String>,
    /// Whether it has notes with a pitch: others can be read as nothing.
    pub has_notes: bool,
    /// Whether it carries the tune: of those with notes the first that says so most plainly is read as melody.
    pub sung: Sung,
}

/// How a score says that a part carries the tune, the plainest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Sung {
    /// There are words to it.
    InWords,
    /// It is called so.
    ByName,
    /// It does not say so.
    Unsaid,
}

/// Which parts of a score are read, each by its name or its number counted from 1.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct PartChoice {
    /// The part of the melody; where none is named, the first one that is sung, or else
    /// the first one with notes that is no other's.
    pub melody: Option<String>,
    /// The part of the bass line.
    pub bass: Option<String>,
    /// The part of the hook.
    pub hook: Option<String>,
}

impl PartChoice {
    /// The lines beside the melody that are asked for, each with its part.
    pub(super) fn lines(&self) -> impl Iterator<Item = (Line, &str)> {
        let parts = [(Line::Bass, &self.bass), (Line::Hook, &self.hook)];
        parts.into_iter().filter_map(|(line, part)| Some((line, part.as_deref()?)))
    }
}

/// The parts of the score in a MusicXML file, compressed or not, in the order of their numbers.
///
/// # Errors
/// A sentence with line and column where nothing can be made of the file.
pub fn parts(bytes: &[u8]) -> Result<Vec<ScorePart>, ReadError> {
    let text = container::text_of(bytes)?;
    let document = document::parse(&text)?;
    let part = |part| ScorePart {
        name: document::given_name(&document, part).map(shortened),
        has_notes: document::has_notes(part),
        sung: document::sung(&document, part),
    };
    Ok(document::parts(&document).into_iter().map(part).collect())
}
