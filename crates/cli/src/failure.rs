//! How a command fails: by its input, or because what was asked cannot be had.

use std::fmt::Display;

/// A command that did not do what was asked, and the sentence that says so.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Failure {
    /// The input or the options are at fault.
    Fault(String),
    /// The question was sound; the answer is that it cannot be had.
    NotToBeHad(String),
}

impl Failure {
    /// The input or the options are at fault, as a sentence says.
    pub(crate) fn fault(sentence: impl Display) -> Self {
        Self::Fault(sentence.to_string())
    }

    /// What was asked cannot be had, as a sentence says.
    pub(crate) fn not_to_be_had(sentence: impl Display) -> Self {
        Self::NotToBeHad(sentence.to_string())
    }

    pub(crate) const fn exit_code(&self) -> u8 {
        match self {
            Self::Fault(_) => 1,
            Self::NotToBeHad(_) => 2,
        }
    }

    /// The sentence, with a capital and a full stop.
    pub(crate) fn sentence(&self) -> String {
        let (Self::Fault(text) | Self::NotToBeHad(text)) = self;
        let mut letters = text.trim_end().chars();
        let first = letters.next().map(char::to_uppercase).into_iter().flatten();
        let mut sentence: String = first.chain(letters).collect();
        if !sentence.ends_with(['.', '!', '?']) {
            sentence.push('.');
        }
        sentence
    }
}

/// How a command ends.
pub(crate) type Ended<T = ()> = Result<T, Failure>;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn failures_speak_in_sentences() {
        assert_eq!(Failure::fault("there is no such file").sentence(), "There is no such file.");
        assert_eq!(Failure::not_to_be_had("No.").exit_code(), 2);
    }
}
