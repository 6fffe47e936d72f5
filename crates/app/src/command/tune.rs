//! The wishes of the Tune place and their rows of the table.

use eframe::egui::{Key, Modifiers};
use handspan_core::harmony::Key as TuneKey;
use handspan_core::spelling::Step;
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::Line;

use super::table::{ctrl, ctrl_shift, entry, key, shift};
use super::{Command, Entry, Shortcut};
use crate::session::value::Base;

/// What is written into the tune.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TuneWish {
    /// The caret stands elsewhere.
    Caret(Caret),
    /// The next notes are so long.
    Length(Base),
    /// They are half as long again, or no longer so.
    Dot,
    /// They are three in the time of two, or no longer so.
    Triplet,
    /// A note of this letter, near the one before.
    Note(Step),
    /// A rest.
    Rest,
    /// The note before sounds on.
    Tie,
    /// The note in hand goes.
    Delete,
    /// The note before the caret goes.
    Back,
    /// The note in hand is higher or lower.
    Raise(Rise),
    /// The note in hand is longer.
    Longer,
    /// The note in hand is shorter.
    Shorter,
    /// The note in hand is as long as the next ones.
    TakeLength,
    /// A chord symbol is typed at a beat; none for the one where the caret stands.
    Chord(Option<Ticks>),
    /// No chord symbol is typed any more.
    LeaveChord,
    /// Beside the grid stands this.
    Show(Page),
    /// One bar more at the end.
    AddBar,
    /// The last bar goes.
    RemoveBar,
    /// The next notes belong to a line beside the melody, or, with none, to the melody.
    Voice(Option<Line>),
    /// The melody of the passage, or the note in hand, belongs to a line.
    Mark(Line),
    /// A line is taken away in the passage, or where the caret stands.
    Unmark(Line),
    /// The form of a new tune is closed.
    LeaveForm,
    /// What was said about the file has been seen to.
    Settle(usize),
}

/// Where the caret goes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Caret {
    Next,
    Previous,
    NextBar,
    PreviousBar,
    First,
    Last,
    To(Ticks),
}

/// How a note moves; downwards with a minus.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Rise {
    /// So many letters along the key's scale.
    Step(i8),
    /// So many semitones.
    Semitone(i8),
    /// So many octaves.
    Octave(i8),
}

/// What stands beside the grid.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Page {
    /// Writing notes.
    Note,
    /// Section, key, metre and tempo of a bar.
    Bar,
    /// Title, range, and what was said about the file.
    Tune,
}

impl Page {
    /// Every page, in the order shown.
    pub const ALL: [Self; 3] = [Self::Note, Self::Bar, Self::Tune];
}

/// A tune from nothing.
#[derive(Clone, PartialEq, Eq, Debug)]
#[expect(missing_docs, reason = "the names say it")]
pub struct NewTune {
    pub title: String,
    pub composer: String,
    pub key: TuneKey,
    pub metre: Metre,
    pub bars: usize,
    pub tempo: Tempo,
}

const fn alt(key: Key) -> Shortcut {
    (Modifiers::ALT, key)
}

const fn row(wish: TuneWish, name: &'static str, keys: &'static [Shortcut], tip: &'static str) -> Entry {
    entry(Command::Tune(wish), name, keys, tip)
}

/// Writing notes.
pub(super) const WRITE: &[Entry] = &[
    row(
        TuneWish::Note(Step::A),
        "Note A",
        &[key(Key::A)],
        "Writes an A near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::B),
        "Note B",
        &[key(Key::B)],
        "Writes a B near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::C),
        "Note C",
        &[key(Key::C)],
        "Writes a C near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::D),
        "Note D",
        &[key(Key::D)],
        "Writes a D near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::E),
        "Note E",
        &[key(Key::E)],
        "Writes an E near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::F),
        "Note F",
        &[key(Key::F)],
        "Writes an F near the note before, as the key has it",
    ),
    row(
        TuneWish::Note(Step::G),
        "Note G",
        &[key(Key::G)],
        "Writes a G near the note before, as the key has it",
    ),
    row(TuneWish::Rest, "Rest", &[key(Key::Num0)], "Writes a rest as long as the next note would be"),
    row(
        TuneWish::Tie,
        "Tie",
        &[key(Key::T)],
        "Lets the note before the caret sound on as long as the next note would",
    ),
    row(TuneWish::Length(Base::Whole), "Whole", &[key(Key::Num1)], "The next notes are whole notes"),
    row(TuneWish::Length(Base::Half), "Half", &[key(Key::Num2)], "The next notes are half notes"),
    row(TuneWish::Length(Base::Quarter), "Quarter", &[key(Key::Num4)], "The next notes are quarters"),
    row(TuneWish::Length(Base::Eighth), "Eighth", &[key(Key::Num8)], "The next notes are eighths"),
    row(TuneWish::Length(Base::Sixteenth), "Sixteenth", &[key(Key::Num6)], "The next notes are sixteenths"),
    row(
        TuneWish::Dot,
        "Dotted",
        &[key(Key::Period)],
        "The next notes are half as long again, or no longer so",
    ),
    row(
        TuneWish::Triplet,
        "Triplet",
        &[key(Key::Num3)],
        "The next notes are three in the time of two, or no longer so",
    ),
    row(
        TuneWish::Back,
        "Take the note before away",
        &[key(Key::Backspace)],
        "Takes the note before the caret away",
    ),
];

/// Bass line and hooks beside the melody.
pub(super) const LINES: &[Entry] = &[
    row(TuneWish::Voice(None), "Write the melody", &[shift(Key::M)], "The next notes belong to the melody"),
    row(
        TuneWish::Voice(Some(Line::Bass)),
        "Write the bass line",
        &[shift(Key::B)],
        "The next notes belong to the bass line, which takes the place of the chords' basses",
    ),
    row(
        TuneWish::Voice(Some(Line::Hook)),
        "Write a hook",
        &[shift(Key::H)],
        "The next notes belong to a hook: a short figure that has to be in",
    ),
    row(
        TuneWish::Mark(Line::Bass),
        "Mark as bass line",
        &[alt(Key::B)],
        "What is written as melody in the passage, or the note, is bass line and no melody any more",
    ),
    row(
        TuneWish::Mark(Line::Hook),
        "Mark as hook",
        &[alt(Key::H)],
        "What is written as melody in the passage, or the note, is a hook and no melody any more",
    ),
    row(
        TuneWish::Unmark(Line::Bass),
        "Take the bass line away",
        &[],
        "Takes the bass line away in the passage, or its note at the caret",
    ),
    row(
        TuneWish::Unmark(Line::Hook),
        "Take the hook away",
        &[],
        "Takes hooks away in the passage, or the note at the caret",
    ),
];

/// Mending what is written.
pub(super) const MEND: &[Entry] = &[
    row(
        TuneWish::Raise(Rise::Step(1)),
        "Higher",
        &[key(Key::ArrowUp)],
        "Moves the note up to the next of the scale",
    ),
    row(
        TuneWish::Raise(Rise::Step(-1)),
        "Lower",
        &[key(Key::ArrowDown)],
        "Moves the note down to the next of the scale",
    ),
    row(
        TuneWish::Raise(Rise::Semitone(1)),
        "Semitone higher",
        &[shift(Key::ArrowUp)],
        "Moves the note up by a semitone",
    ),
    row(
        TuneWish::Raise(Rise::Semitone(-1)),
        "Semitone lower",
        &[shift(Key::ArrowDown)],
        "Moves the note down by a semitone",
    ),
    row(
        TuneWish::Raise(Rise::Octave(1)),
        "Octave higher",
        &[ctrl(Key::ArrowUp)],
        "Moves the note up by an octave",
    ),
    row(
        TuneWish::Raise(Rise::Octave(-1)),
        "Octave lower",
        &[ctrl(Key::ArrowDown)],
        "Moves the note down by an octave",
    ),
    row(TuneWish::Longer, "Longer", &[alt(Key::ArrowRight)], "Makes the note longer by one step"),
    row(TuneWish::Shorter, "Shorter", &[alt(Key::ArrowLeft)], "Makes the note shorter by one step"),
    row(
        TuneWish::TakeLength,
        "Take the length chosen",
        &[key(Key::Equals)],
        "Makes the note as long as the next notes would be",
    ),
    row(TuneWish::Delete, "Take the note away", &[key(Key::Delete)], "Makes the time of the note silent"),
    row(
        TuneWish::Chord(None),
        "Chord symbol",
        &[key(Key::Enter)],
        "Types a chord symbol over this beat; an empty one is taken away",
    ),
    row(
        TuneWish::Caret(Caret::Next),
        "Caret forward",
        &[key(Key::ArrowRight)],
        "Goes to the next note, or on through a rest",
    ),
    row(
        TuneWish::Caret(Caret::Previous),
        "Caret back",
        &[key(Key::ArrowLeft)],
        "Goes to the note before, or back through a rest",
    ),
    row(
        TuneWish::Caret(Caret::NextBar),
        "Caret to the next bar",
        &[ctrl(Key::ArrowRight), key(Key::PageDown)],
        "Goes to the beginning of the next bar",
    ),
    row(
        TuneWish::Caret(Caret::PreviousBar),
        "Caret to the bar before",
        &[ctrl(Key::ArrowLeft), key(Key::PageUp)],
        "Goes to the beginning of this bar, or the bar before",
    ),
    row(
        TuneWish::Caret(Caret::First),
        "Caret to the beginning",
        &[key(Key::Home)],
        "Goes to the beginning of the tune",
    ),
    row(
        TuneWish::Caret(Caret::Last),
        "Caret to the end",
        &[key(Key::End)],
        "Goes behind the last note that there is room for",
    ),
];

/// Bars and the pages beside the grid.
pub(super) const BARS: &[Entry] = &[
    row(TuneWish::AddBar, "Add a bar", &[ctrl(Key::B)], "Adds an empty bar at the end"),
    row(
        TuneWish::RemoveBar,
        "Remove the last bar",
        &[ctrl_shift(Key::B)],
        "Takes the last bar away, if it is empty",
    ),
    row(
        TuneWish::Show(Page::Note),
        "The note",
        &[key(Key::N)],
        "Shows the lengths of notes and what the caret stands on",
    ),
    row(
        TuneWish::Show(Page::Bar),
        "The bar",
        &[key(Key::S)],
        "Shows section, key, metre and tempo of this bar",
    ),
    row(
        TuneWish::Show(Page::Tune),
        "The tune",
        &[key(Key::I)],
        "Shows title, range and what was said about the file",
    ),
];
