//! Sentences for the player: what happened, what was kept, what to do next.

/// How much a notice matters.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Level {
    /// A result.
    Told,
    /// Something that was not kept as it was.
    Mind,
    /// Something that did not work.
    Failed,
    /// Something that the work as it stands does not allow: it is settled by the next change.
    Refused,
}

/// A notice: a sentence, and more where there is more to say.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Notice {
    /// How much it matters.
    pub level: Level,
    /// The sentence.
    pub text: String,
    /// One sentence a line.
    pub details: Vec<String>,
}

impl Notice {
    /// A result.
    pub fn told(text: impl Into<String>) -> Self {
        Self { level: Level::Told, text: text.into(), details: Vec::new() }
    }

    /// Something that did not work.
    pub fn failed(text: impl Into<String>) -> Self {
        Self { level: Level::Failed, ..Self::told(text) }
    }

    /// Something that the work as it stands does not allow.
    pub fn refused(text: impl Into<String>) -> Self {
        Self { level: Level::Refused, ..Self::told(text) }
    }
}

/// `1 lock was`, `3 locks were`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
