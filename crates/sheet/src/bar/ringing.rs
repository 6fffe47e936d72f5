//! Which notes sound during a stretch of time, without looking through the whole score.

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::time::Ticks;

/// The notes of a score, and how far back one has to look for a note that still sounds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ringing<'a> {
    notes: &'a [ScoreNote],
    longest: Ticks,
}

impl<'a> Ringing<'a> {
    /// Looks through a score once.
    pub(crate) fn new(score: &'a Score) -> Self {
        let longest = score.notes.iter().map(|note| note.length).max();
        Self { notes: &score.notes, longest: longest.unwrap_or(Ticks::ZERO) }
    }

    /// The notes that sound at some time from `from` until before `to`, with their indices in the score.
    pub(crate) fn during(self, from: Ticks, to: Ticks) -> impl Iterator<Item = (usize, &'a ScoreNote)> {
        let first = self.notes.partition_point(|note| note.at + self.longest <= from);
        let end = self.notes.partition_point(|note| note.at < to).max(first);
        let near = self.notes[first..end].iter().enumerate();
        near.filter(move |(_, note)| note.end() > from).map(move |(i, note)| (first + i, note))
    }

    /// The notes that sound at a time.
    pub(crate) fn at(self, at: Ticks) -> impl Iterator<Item = &'a ScoreNote> {
        self.during(at, at + Ticks::new(1)).map(|(_, note)| note)
    }
}
