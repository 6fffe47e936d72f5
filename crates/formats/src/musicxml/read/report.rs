//! Gathers what could not be kept while reading goes on.

use std::collections::BTreeMap;

use roxmltree::Node;

use super::line::Lines;
use crate::diagnostic::{Diagnostic, Severity, Whereabouts};
use crate::error::ReadError;

/// More diagnostics than anybody reads; the rest is only counted.
const MOST: usize = 1_000;

/// The diagnostics of one reading, and the bar it is in.
pub(super) struct Report {
    lines: Lines,
    bar: Option<String>,
    diagnostics: Vec<Diagnostic>,
    unsaid: usize,
    /// Things left out all over the file, said once at the end: how many, and the line of the first.
    left_out: BTreeMap<&'static str, (usize, u32)>,
}

impl Report {
    pub(super) fn new(lines: Lines) -> Self {
        Self { lines, bar: None, diagnostics: Vec::new(), unsaid: 0, left_out: BTreeMap::new() }
    }

    /// The line an element begins in.
    pub(super) fn line(&self, node: Node<'_, '_>) -> u32 {
        self.lines.at(node.range().start)
    }

    /// From here on everything happens in this bar.
    pub(super) fn enter(&mut self, bar: Option<String>) {
        self.bar = bar;
    }

    /// Says something about an element of the bar that is being read.
    pub(super) fn say(&mut self, severity: Severity, node: Node<'_, '_>, message: impl Into<String>) {
        let place = self.bar.clone().map_or(Whereabouts::File, Whereabouts::Bar);
        let line = self.line(node);
        self.push(severity, place, Some(line), message);
    }

    /// Says something about any place.
    pub(super) fn push(
        &mut self,
        severity: Severity,
        place: Whereabouts,
        line: Option<u32>,
        message: impl Into<String>,
    ) {
        if self.diagnostics.len() == MOST {
            self.unsaid += 1;
            return;
        }
        self.diagnostics.push(Diagnostic { severity, place, line, message: message.into(), hint: None });
    }

    /// Gives the last thing that was said a hint.
    pub(super) fn hint(&mut self, hint: &str) {
        if let Some(last) = self.diagnostics.last_mut().filter(|_| self.unsaid == 0) {
            last.hint = Some(hint.to_owned());
        }
    }

    /// Counts something that is left out and that no arrangement needs.
    pub(super) fn leave_out(&mut self, what: &'static str, node: Node<'_, '_>) {
        let line = self.line(node);
        self.left_out.entry(what).or_insert((0, line)).0 += 1;
    }

    /// A number beyond anything a score can mean, which ends the reading.
    pub(super) fn absurd(&self, what: &'static str, found: &str, node: Node<'_, '_>) -> ReadError {
        ReadError::Absurd { what, found: shortened(found), bar: self.bar.clone(), line: self.line(node) }
    }

    /// Everything that was said, what was only counted at the end.
    pub(super) fn finish(mut self) -> Vec<Diagnostic> {
        for (what, (count, line)) in std::mem::take(&mut self.left_out) {
            let message = format!("{what} are not kept ({count} in all, the first in line {line})");
            self.push(Severity::Note, Whereabouts::File, None, message);
        }
        if self.unsaid > 0 {
            self.diagnostics.push(Diagnostic {
                severity: Severity::Loss,
                place: Whereabouts::File,
                line: None,
                message: format!("{} more things could not be kept", self.unsaid),
                hint: None,
            });
        }
        self.diagnostics
    }
}

/// What a file says, cut to a length that a message can hold.
pub(super) fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    text.chars().take(LONGEST).chain(['…']).collect()
}
