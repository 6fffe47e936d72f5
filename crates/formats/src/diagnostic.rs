//! What a reader could not keep, said bar by bar.
//!
//! A diagnostic is about the user's file, not about the program: reading goes on, and the list is shown afterwards.

use std::fmt;

use handspan_core::tune::BarBeat;

/// What was read, and what could not be kept of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Imported<T> {
    /// What could be kept.
    pub value: T,
    /// What could not, in the order it was met.
    pub diagnostics: Vec<Diagnostic>,
}

impl<T> Imported<T> {
    /// Whether the file itself is wrong somewhere: at least one diagnostic is a [`Severity::Fault`].
    pub fn has_faults(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity == Severity::Fault)
    }
}

/// How much a diagnostic matters, least first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Something that the arrangement does not need was left out: lyrics, dynamics.
    Note,
    /// Music was left out or changed.
    Loss,
    /// The file contradicts its own standard. The rest was kept, but nobody should rely on it unseen.
    Fault,
}

/// Where in the music something is.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum Whereabouts {
    /// In the file as a whole.
    File,
    /// Somewhere in the bar of this printed number.
    Bar(String),
    /// At a beat of a bar.
    Beat(BarBeat),
}

/// One thing that could not be kept as it is in the file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// Where in the music.
    pub place: Whereabouts,
    /// The line in the file, counted from 1, where it is known.
    pub line: Option<u32>,
    /// What happened and what was kept.
    pub message: String,
    /// What to do about it, where there is something to do.
    pub hint: Option<String>,
}

/// Writes `bar 7, beat 2 (line 120): 3 notes …; look at …`.
impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.place, self.line) {
            (Whereabouts::File, None) => {}
            (Whereabouts::File, Some(line)) => write!(f, "line {line}: ")?,
            (place, None) => write!(f, "{place}: ")?,
            (place, Some(line)) => write!(f, "{place} (line {line}): ")?,
        }
        f.write_str(&self.message)?;
        self.hint.as_ref().map_or(Ok(()), |hint| write!(f, "; {hint}"))
    }
}

/// Writes `bar 7` or `bar 7, beat 2`.
impl fmt::Display for Whereabouts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File => f.write_str("the file"),
            Self::Bar(number) => write!(f, "bar {number}"),
            Self::Beat(bar_beat) => bar_beat.fmt(f),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_diagnostic_is_a_sentence_with_its_place() {
        let diagnostic = Diagnostic {
            severity: Severity::Loss,
            place: Whereabouts::Bar("7".into()),
            line: Some(120),
            message: "2 grace notes are not kept".into(),
            hint: Some("write them as notes".into()),
        };
        assert_eq!(
            diagnostic.to_string(),
            "bar 7 (line 120): 2 grace notes are not kept; write them as notes"
        );
    }
}
