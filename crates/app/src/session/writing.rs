//! Writing and mending the tune: where the caret stands, how long the next note is, and what each wish does to the
//! tune as given.
//!
//! A change concerns the note that has just been written, while the caret stands behind it, and otherwise the note
//! under the caret.

use handspan_core::arrangement::Edit;
use handspan_core::harmony::Key;
use handspan_core::neck::Place as NeckPlace;
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use handspan_core::time::Ticks;
use handspan_core::tune::mend::melody::{along_scale, by_semitones, nearest};
use handspan_core::tune::{Line, Mend};

use super::Session;
use super::notice::Notice;
use super::value::{Base, NoteValue, longer, shorter};
use super::voice::Written;
use crate::command::{Caret, Page, Rise, TuneWish};

/// The octave of a melody's first note: E4 is the open first string.
const FIRST_OCTAVE: i8 = 4;
/// Where a bass line begins: on the fifth string.
const LOW: Pitch = Pitch::new(48);

/// What the Tune place is doing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Writing {
    caret: Ticks,
    value: NoteValue,
    voice: Option<Line>,
    fresh: Option<Ticks>,
    chord: Option<Ticks>,
    page: Page,
    forming: bool,
}

impl Default for Writing {
    fn default() -> Self {
        Self {
            caret: Ticks::ZERO,
            value: NoteValue::plain(Base::Quarter),
            voice: None,
            fresh: None,
            chord: None,
            page: Page::Note,
            forming: false,
        }
    }
}

impl Writing {
    /// Where the next note begins.
    pub const fn caret(&self) -> Ticks {
        self.caret
    }

    /// How long the next note is.
    pub const fn value(&self) -> NoteValue {
        self.value
    }

    /// The line that is being written; none for the melody.
    pub const fn voice(&self) -> Option<Line> {
        self.voice
    }

    /// Where a chord symbol is being typed.
    pub const fn chord(&self) -> Option<Ticks> {
        self.chord
    }

    /// What is shown beside the grid.
    pub const fn page(&self) -> Page {
        self.page
    }

    /// Whether the form of a new tune is open.
    pub const fn is_forming(&self) -> bool {
        self.forming
    }

    pub(super) const fn stand_at(&mut self, at: Ticks) {
        self.caret = at;
        self.fresh = None;
    }

    pub(super) const fn show(&mut self, page: Page) {
        self.page = page;
    }

    pub(super) const fn form(&mut self, open: bool) {
        self.forming = open;
    }
}

impl Session {
    /// What the Tune place is doing.
    pub const fn writing(&self) -> &Writing {
        &self.writing
    }

    /// The note that a change concerns.
    pub fn note_in_hand(&self) -> Option<Written> {
        self.written_at(self.writing.fresh.unwrap_or(self.writing.caret))
    }

    /// The key as written where the caret stands.
    pub fn written_key(&self) -> Key {
        let tune = &self.work().tune;
        tune.bars()[tune.bar_index(self.writing.caret)].key
    }

    pub(super) fn write(&mut self, wish: TuneWish) {
        match wish {
            TuneWish::Caret(caret) => {
                let at = self.caret_after(caret);
                self.stand_in_tune(at);
            }
            TuneWish::Length(base) => self.writing.value = NoteValue::plain(base),
            TuneWish::Dot => {
                let value = self.writing.value;
                self.writing.value = NoteValue { dotted: !value.dotted, triplet: false, ..value };
            }
            TuneWish::Triplet => {
                let value = self.writing.value;
                self.writing.value = NoteValue { triplet: !value.triplet, dotted: false, ..value };
            }
            TuneWish::Note(letter) => {
                self.write_note(self.note_of(letter));
            }
            TuneWish::Rest => self.write_rest(),
            TuneWish::Tie => self.tie(),
            TuneWish::Delete => self.delete(),
            TuneWish::Back => self.go_back(),
            TuneWish::Raise(rise) => self.raise(rise),
            TuneWish::Longer => self.stretch(longer),
            TuneWish::Shorter => self.stretch(shorter),
            TuneWish::TakeLength => {
                let length = self.writing.value.length();
                self.stretch(|_| Some(length));
            }
            TuneWish::Chord(at) => self.writing.chord = Some(at.unwrap_or_else(|| self.beat_here())),
            TuneWish::LeaveChord => self.writing.chord = None,
            TuneWish::Show(page) => self.writing.page = page,
            TuneWish::AddBar => self.add_bar(),
            TuneWish::RemoveBar => self.remove_last_bar(),
            TuneWish::LeaveForm => self.writing.forming = false,
            TuneWish::Voice(voice) => {
                self.writing.voice = voice.filter(|_| !self.is_written_out());
                self.writing.fresh = None;
            }
            TuneWish::Mark(line) => self.mark(line),
            TuneWish::Unmark(line) => self.unmark(line),
            TuneWish::Settle(index) => self.settle_remark(index),
        }
    }

    /// Writes the note that sounds where the neck was clicked, or nothing where the capo or the tuning has none.
    pub(super) fn write_from_neck(&mut self, place: NeckPlace) {
        let back = Interval::new(-self.work().plan.transpose.semitones());
        let sounding = self.work().plan.instrument.sounding(place);
        if let Some(pitch) = sounding.and_then(|pitch| pitch.checked_add(back)) {
            let key = self.written_key();
            let spelling = Spelling::of_class_in(pitch.class(), i32::from(key.fifths()));
            self.write_note(SpelledPitch::new(pitch, spelling));
        }
    }

    /// Carries a change of the tune out, or says why it can't be; gives whether it could.
    fn mend(&mut self, mend: Mend) -> bool {
        self.edit(&Edit::Tune(mend))
    }

    fn write_note(&mut self, written: SpelledPitch) {
        let (at, length) = (self.writing.caret, self.writing.value.length());
        if self.mend(self.note(at, length, written)) {
            self.stand_in_tune(at + length);
            self.writing.fresh = Some(at);
        }
    }

    fn write_rest(&mut self) {
        let (at, length) = (self.writing.caret, self.writing.value.length());
        let end = (at + length).min(self.work().tune.end().max(at));
        if self.mend(self.silence(at..end)) {
            self.stand_in_tune(end);
        }
    }

    /// Lets the note before the caret sound on for as long as the next note would be.
    fn tie(&mut self) {
        let before = self.writing.caret - Ticks::new(1);
        let Some(note) = self.written_at(before) else {
            self.notice = Some(Notice::refused("there is no note before the caret that could sound on"));
            return;
        };
        let end = self.writing.caret + self.writing.value.length();
        if self.mend(self.note(note.at, end - note.at, note.written)) {
            self.stand_in_tune(end);
            self.writing.fresh = Some(note.at);
        }
    }

    fn delete(&mut self) {
        if let Some(note) = self.note_in_hand()
            && self.mend(self.silence(note.at..note.end()))
        {
            self.stand_in_tune(note.at);
        }
    }

    /// Takes the note before the caret away, or steps back over a rest.
    fn go_back(&mut self) {
        let before = self.writing.caret - Ticks::new(1);
        let note = self.written_at(before);
        let target = note.map_or_else(|| self.caret_after(Caret::Previous), |note| note.at);
        if note.is_none_or(|note| self.mend(self.silence(note.at..note.end()))) {
            self.stand_in_tune(target);
        }
    }

    fn raise(&mut self, rise: Rise) {
        let key = self.written_key();
        let Some(note) = self.note_in_hand() else {
            return;
        };
        let written = match rise {
            Rise::Step(letters) => Some(along_scale(note.written, key, i32::from(letters))),
            Rise::Semitone(semitones) => by_semitones(note.written, key, i16::from(semitones)),
            Rise::Octave(octaves) => by_semitones(note.written, key, 12 * i16::from(octaves)),
        };
        if let Some(written) = written {
            let mend = match self.writing.voice {
                None => Mend::Pitch { at: note.at, written },
                Some(_) => self.note(note.at, note.length, written),
            };
            self.edit_in_gesture(Edit::Tune(mend));
        }
    }

    fn stretch(&mut self, to: impl Fn(Ticks) -> Option<Ticks>) {
        let Some(note) = self.note_in_hand() else {
            return;
        };
        if let Some(length) = to(note.length) {
            let fresh = self.writing.fresh;
            let mend = if self.writing.voice.is_none() {
                Mend::Length { at: note.at, length }
            } else {
                // The next note of a line stays: what is made longer ends where it begins.
                let next = self.written_from(note.end()).map_or(note.at + length, |next| next.at);
                self.note(note.at, length.min(next - note.at), note.written)
            };
            let changed = self.edit_in_gesture(Edit::Tune(mend));
            if changed && fresh.is_some() {
                self.stand_in_tune(note.at + length);
                self.writing.fresh = fresh;
            }
        }
    }

    fn add_bar(&mut self) {
        let after = self.work().tune.bars().len() - 1;
        self.mend(Mend::AddBars { after, count: 1 });
    }

    /// Takes the last bar away; one that holds something only after that has been taken away.
    fn remove_last_bar(&mut self) {
        let tune = &self.work().tune;
        let last = tune.bars().len() - 1;
        let start = tune.bars()[last].start;
        let holds = tune.melody().last().is_some_and(|note| note.end() > start)
            || tune.chords().last().is_some_and(|chord| chord.at >= start);
        if holds {
            let text = "the last bar holds notes or a chord symbol; take them away first";
            self.notice = Some(Notice::refused(text));
        } else {
            self.mend(Mend::RemoveBars(last..last + 1));
        }
    }

    /// The note that a letter means: the first of a melody in the octave from middle C on, every other one nearest to
    /// the note before; in another octave where the instrument has it only there.
    fn note_of(&self, letter: Step) -> SpelledPitch {
        let before = self.pitch_before();
        let near = nearest(letter, self.written_key(), before.unwrap_or(LOW));
        let wanted = match (before, self.writing.voice) {
            (None, None | Some(Line::Hook)) => SpelledPitch { octave: FIRST_OCTAVE, ..near },
            _ => near,
        };
        let apart = |other: &SpelledPitch| {
            let from = before.or_else(|| wanted.pitch());
            other.pitch().zip(from).map_or(i16::MAX, |(pitch, from)| (pitch - from).semitones().abs())
        };
        let octaves = (-1..=9).map(|octave| SpelledPitch { octave, ..wanted });
        let playable = octaves.filter(|note| self.can_be_played(*note)).min_by_key(apart);
        if self.can_be_played(wanted) { wanted } else { playable.unwrap_or(wanted) }
    }

    /// Whether the instrument has a place for a note, where the tune is moved to.
    fn can_be_played(&self, written: SpelledPitch) -> bool {
        let plan = &self.work().plan;
        let sounding = written.pitch().and_then(|pitch| pitch.checked_add(plan.transpose));
        sounding.is_some_and(|pitch| plan.instrument.places(pitch).next().is_some())
    }

    /// The pitch that a letter is written near to: the note before the caret, or else the first of the line.
    fn pitch_before(&self) -> Option<Pitch> {
        let mut notes = self.voice_notes();
        let before = notes.iter().rfind(|note| note.at < self.writing.caret).copied();
        let near = before.or_else(|| (!notes.is_empty()).then(|| notes.remove(0)));
        near.and_then(|note| note.written.pitch())
    }

    /// The beat that the caret stands in.
    fn beat_here(&self) -> Ticks {
        let tune = &self.work().tune;
        let at = self.writing.caret.min(tune.end() - Ticks::new(1));
        let bar = &tune.bars()[tune.bar_index(at)];
        let beat = bar.metre.beat().count();
        bar.start + Ticks::new((at - bar.start).count() / beat * beat)
    }

    fn caret_after(&self, caret: Caret) -> Ticks {
        let tune = &self.work().tune;
        let (at, step) = (self.writing.caret, self.writing.value.length());
        match caret {
            Caret::To(time) => time,
            Caret::First => Ticks::ZERO,
            Caret::Last => tune.end(),
            Caret::Next => {
                let sounds = self.written_at(at).map(|note| note.end());
                let next = self.written_from(at + Ticks::new(1)).map(|note| note.at);
                let line = self.bar_end(at);
                sounds.unwrap_or_else(|| next.unwrap_or(line).min(line).min(at + step))
            }
            Caret::Previous => {
                let before = (at - Ticks::new(1)).max(Ticks::ZERO);
                let sounds = self.written_at(before).map(|note| note.at);
                let end = self.voice_notes().iter().rev().map(Written::end).find(|end| *end < at);
                let line = tune.bars()[tune.bar_index(before)].start;
                sounds.unwrap_or_else(|| end.unwrap_or(line).max(line).max(at - step))
            }
            Caret::NextBar => self.bar_end(at),
            Caret::PreviousBar => {
                let start = tune.bars()[tune.bar_index(at)].start;
                let before = (start - Ticks::new(1)).max(Ticks::ZERO);
                if at > start { start } else { tune.bars()[tune.bar_index(before)].start }
            }
        }
    }

    fn bar_end(&self, at: Ticks) -> Ticks {
        let tune = &self.work().tune;
        tune.bars()[tune.bar_index(at)].end()
    }

    /// Puts the caret somewhere in the tune, or behind it; the moment there is the one that neck and ribbon show.
    fn stand_in_tune(&mut self, at: Ticks) {
        let at = at.clamp(Ticks::ZERO, self.work().tune.end());
        let moment = self.arrangement().map(|arrangement| arrangement.moment_index(at));
        self.history.close_gesture();
        if let Some(moment) = moment {
            self.stand_at(moment);
        }
        self.writing.stand_at(at);
    }
}

#[cfg(test)]
mod tests {
    use handspan_core::time::{Metre, Tempo};
    use handspan_core::tune::MelodyNote;

    use super::*;
    use crate::command::{Command, FileWish, NewTune};

    fn empty(bars: usize) -> Session {
        let new = NewTune {
            title: "Trial".into(),
            composer: String::new(),
            key: Key::default(),
            metre: Metre::COMMON,
            bars,
            tempo: Tempo::MODERATE,
        };
        Session::on_demo().after(Command::File(FileWish::Begin(new)))
    }

    fn written(session: &Session) -> String {
        let note = |n: &MelodyNote| format!("{}+{} {}", n.at, n.length, n.written);
        session.work().tune.melody().iter().map(note).collect::<Vec<_>>().join(", ")
    }

    fn after(session: Session, wishes: &[TuneWish]) -> Session {
        wishes.iter().fold(session, |session, wish| session.after(Command::Tune(*wish)))
    }

    #[test]
    fn notes_follow_one_another_and_the_last_is_in_hand() {
        let session = after(
            empty(2),
            &[TuneWish::Note(Step::C), TuneWish::Length(Base::Half), TuneWish::Note(Step::E)],
        );
        assert_eq!(written(&session), "0+1 C4, 1+2 E4");
        let session =
            after(session, &[TuneWish::Raise(Rise::Semitone(-1)), TuneWish::Raise(Rise::Octave(-1))]);
        assert_eq!(written(&session), "0+1 C4, 1+2 Eb3");
        // Both changes of one note are one step.
        let session = session.after(Command::Undo);
        assert_eq!(written(&session), "0+1 C4, 1+2 E4");
    }

    #[test]
    fn a_melody_begins_on_the_open_first_string_and_stays_on_the_neck() {
        assert_eq!(written(&after(empty(1), &[TuneWish::Note(Step::E)])), "0+1 E4");
        // Nearest to A5 would be C6, beyond the last fret.
        let high = [TuneWish::Note(Step::A), TuneWish::Raise(Rise::Octave(1)), TuneWish::Note(Step::C)];
        assert_eq!(written(&after(empty(1), &high)), "0+1 A5, 1+1 C5");
        // What is written sounds where the tune is moved to.
        let moved = empty(1).after(Command::Edit(Edit::Transpose(Interval::new(-24))));
        assert_eq!(written(&after(moved, &[TuneWish::Note(Step::C)])), "0+1 C5");
    }

    #[test]
    fn the_caret_goes_from_note_to_note_and_through_rests() {
        let wishes = [TuneWish::Length(Base::Half), TuneWish::Note(Step::G), TuneWish::Length(Base::Quarter)];
        let mut session = after(empty(2), &wishes);
        session = after(session, &[TuneWish::Caret(Caret::First)]);
        let mut stops = Vec::new();
        for _ in 0..5 {
            session = after(session, &[TuneWish::Caret(Caret::Next)]);
            stops.push(session.writing().caret().to_string());
        }
        assert_eq!(stops, ["2", "3", "4", "5", "6"]);
        for _ in 0..5 {
            session = after(session, &[TuneWish::Caret(Caret::Previous)]);
        }
        assert_eq!(session.writing().caret(), Ticks::ZERO);
    }

    #[test]
    fn a_long_note_is_refused_where_the_next_begins() {
        let wishes = [
            TuneWish::Note(Step::C),
            TuneWish::Note(Step::D),
            TuneWish::Caret(Caret::First),
            TuneWish::Longer,
        ];
        let session = after(empty(2), &wishes);
        let notice = session.notice().expect("a reason").text.clone();
        assert_eq!(notice, "the note can't last so long: the next one begins in bar 1, beat 2");
        assert_eq!(written(&after(session, &[TuneWish::Shorter])), "0+3/4 C4, 1+1 D4");
    }

    #[test]
    fn whatever_is_wished_for_the_tune_holds_and_undo_returns_exactly() {
        let mut session = empty(2);
        let first = session.work().clone();
        let wishes = [
            TuneWish::Note(Step::A),
            TuneWish::Note(Step::F),
            TuneWish::Rest,
            TuneWish::Tie,
            TuneWish::Delete,
            TuneWish::Back,
            TuneWish::Longer,
            TuneWish::Shorter,
            TuneWish::TakeLength,
            TuneWish::Raise(Rise::Step(3)),
            TuneWish::Raise(Rise::Octave(-1)),
            TuneWish::Length(Base::Half),
            TuneWish::Length(Base::Eighth),
            TuneWish::Dot,
            TuneWish::Triplet,
            TuneWish::AddBar,
            TuneWish::RemoveBar,
            TuneWish::Caret(Caret::Next),
            TuneWish::Caret(Caret::Previous),
            TuneWish::Caret(Caret::PreviousBar),
            TuneWish::Caret(Caret::Last),
            TuneWish::Chord(None),
        ];
        let mut dice: u64 = 7;
        for _ in 0..90 {
            dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let wish = wishes[(dice >> 33) as usize % wishes.len()];
            session = after(session, &[wish]);
            assert!(session.writing().caret() <= session.work().tune.end(), "{wish:?}");
        }
        while session.history().undo_name().is_some() {
            session = session.after(Command::Undo);
        }
        assert_eq!(*session.work(), first);
    }
}
