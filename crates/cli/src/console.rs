//! Where a command's words go: answers to one side, remarks and errors to the other.

use std::fmt;
use std::io::{self, IsTerminal as _, Write};

/// The two outputs of a command.
pub struct Console<'a> {
    answers: Box<dyn Write + 'a>,
    remarks: Box<dyn Write + 'a>,
    watched: bool,
}

impl<'a> Console<'a> {
    /// The outputs of this process.
    pub fn of_process() -> Self {
        Self {
            answers: Box::new(io::stdout()),
            remarks: Box::new(io::stderr()),
            watched: io::stderr().is_terminal(),
        }
    }

    /// Any two outputs; nobody is taken to look on while a command works.
    pub fn new(answers: impl Write + 'a, remarks: impl Write + 'a) -> Self {
        Self { answers: Box::new(answers), remarks: Box::new(remarks), watched: false }
    }

    /// Whether somebody looks on, so that progress is worth showing.
    pub(crate) const fn is_watched(&self) -> bool {
        self.watched
    }

    /// Prints a line of the answer.
    ///
    /// A reader that has closed its end wants no more; that is no fault.
    pub(crate) fn print(&mut self, line: &str) {
        writeln!(self.answers, "{line}").unwrap_or_default();
    }

    /// Prints a remark or an error.
    pub(crate) fn say(&mut self, sentence: &str) {
        writeln!(self.remarks, "{sentence}").unwrap_or_default();
    }
}

impl fmt::Debug for Console<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Console").field("watched", &self.watched).finish_non_exhaustive()
    }
}
