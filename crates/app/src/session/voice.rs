//! The voices that are written: the melody, and beside it a bass line and hooks.

use std::ops::Range;

use handspan_core::arrangement::Edit;
use handspan_core::spelling::SpelledPitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Line, LineNote, MelodyNote, Mend};

use super::Session;
use super::notice::Notice;

/// A note of the voice that is being written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Written {
    /// When it begins.
    pub at: Ticks,
    /// How long it sounds.
    pub length: Ticks,
    /// What sounds, as spelled.
    pub written: SpelledPitch,
}

impl Written {
    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.at + self.length
    }
}

impl From<&MelodyNote> for Written {
    fn from(note: &MelodyNote) -> Self {
        Self { at: note.at, length: note.length, written: note.written }
    }
}

impl From<&LineNote> for Written {
    fn from(note: &LineNote) -> Self {
        Self { at: note.at, length: note.length, written: note.written }
    }
}

impl Session {
    /// The note of the voice that begins or sounds at a time.
    pub(super) fn written_at(&self, at: Ticks) -> Option<Written> {
        let tune = &self.work().tune;
        match self.writing.voice() {
            None => tune.melody_at(at).map(Written::from),
            Some(line) => tune.line_at(line, at).map(Written::from),
        }
    }

    /// The first note of the voice that begins at a time or after it.
    pub(super) fn written_from(&self, at: Ticks) -> Option<Written> {
        self.voice_notes().into_iter().find(|note| note.at >= at)
    }

    /// The notes of the voice in order of time.
    pub(super) fn voice_notes(&self) -> Vec<Written> {
        let tune = &self.work().tune;
        match self.writing.voice() {
            None => tune.melody().iter().map(Written::from).collect(),
            Some(line) => tune.lines().iter().filter(|note| note.line == line).map(Written::from).collect(),
        }
    }

    /// The change that writes a note into the voice.
    pub(super) fn note(&self, at: Ticks, length: Ticks, written: SpelledPitch) -> Mend {
        match self.writing.voice() {
            None => Mend::Note { at, length, written },
            Some(line) => Mend::Line { line, at, length, written },
        }
    }

    /// The change that silences the voice for a time.
    pub(super) fn silence(&self, passage: Range<Ticks>) -> Mend {
        match self.writing.voice() {
            None => Mend::Silence(passage),
            Some(line) => Mend::LineSilence { line, passage },
        }
    }

    /// Marks the melody of the passage, or the melody note at the caret, as a line.
    pub(super) fn mark(&mut self, line: Line) {
        let at = self.writing.caret();
        let note = || self.work().tune.melody_at(at).map(|note| note.at..note.end());
        let Some(passage) = self.passage().cloned().or_else(note) else {
            let text =
                "no melody note sounds at the caret; select a passage in the tune below, or go to a note";
            self.tell(Notice::refused(text));
            return;
        };
        self.edit(&Edit::Tune(Mend::MarkAsLine { line, passage }));
    }

    /// Takes a line away in the passage, or its note at the caret.
    pub(super) fn unmark(&mut self, line: Line) {
        let at = self.writing.caret();
        let note = || self.work().tune.line_at(line, at).map(|note| note.at..note.end());
        match self.passage().cloned().or_else(note) {
            Some(passage) => {
                self.edit(&Edit::Tune(Mend::LineSilence { line, passage }));
            }
            None => self.tell(Notice::refused(format!("there is no {} at the caret", line.name()))),
        }
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::spelling::Step;

    use super::*;
    use crate::command::{Caret, Command, TuneWish};

    fn after(session: Session, wishes: &[TuneWish]) -> Session {
        wishes.iter().fold(session, |session, wish| session.after(Command::Tune(*wish)))
    }

    fn lines(session: &Session) -> String {
        let note =
            |note: &LineNote| format!("{}+{} {} {}", note.at, note.length, note.written, note.line.name());
        session.work().tune.lines().iter().map(note).collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn a_bass_line_is_written_beside_the_melody() {
        let session = Session::on_demo();
        let melody = session.work().tune.melody().to_vec();
        let wishes = [
            TuneWish::Caret(Caret::First),
            TuneWish::Voice(Some(Line::Bass)),
            TuneWish::Note(Step::G),
            TuneWish::Note(Step::B),
            TuneWish::Longer,
        ];
        let session = after(session, &wishes);
        assert_eq!(lines(&session), "0+1 G2 bass line, 1+3/2 B2 bass line");
        assert_eq!(session.work().tune.melody(), melody);
        let session = after(session, &[TuneWish::Delete]);
        assert_eq!(lines(&session), "0+1 G2 bass line");
    }

    #[test]
    fn melody_is_marked_as_a_hook_and_taken_away() {
        let session = Session::on_demo();
        let first = session.work().tune.melody()[0];
        let before = session.work().clone();
        let session = after(session, &[TuneWish::Caret(Caret::To(first.at)), TuneWish::Mark(Line::Hook)]);
        assert_eq!(session.work().tune.lines().len(), 1);
        assert_ne!(session.work().tune.melody()[0], first);
        let bare = after(session, &[TuneWish::Caret(Caret::To(first.at)), TuneWish::Unmark(Line::Hook)]);
        assert!(bare.work().tune.lines().is_empty());
        let session = bare.after(Command::Undo).after(Command::Undo);
        assert_eq!(*session.work(), before);
    }
}
