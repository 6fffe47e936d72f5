//! Why nothing could be read: one sentence each, with its place and what to do.

use std::path::PathBuf;

use handspan_core::tune::TuneFault;
use thiserror::Error;

/// Why a file gave nothing at all.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum ReadError {
    /// The file could not be opened or read from disk.
    #[error("{path} can't be read: {reason}", path = path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// Why, in a player's words.
        reason: String,
    },
    /// There is not one byte in it.
    #[error("the file is empty; export it again from the program that made it")]
    Empty,
    /// It is larger than any tune.
    #[error("the file holds more than {limit} MB, which no tune needs; is it the right file?")]
    TooLarge {
        /// The limit in megabytes.
        limit: u64,
    },
    /// Its bytes are no text.
    #[error("the file is no text that can be read (neither UTF-8 nor UTF-16); export it again as MusicXML")]
    NoText,
    /// The text is something else altogether.
    #[error(
        "line 1, column 1: the file begins with “{begins}”, so it is no MusicXML score; export it as MusicXML"
    )]
    NoScore {
        /// Its first words.
        begins: String,
    },
    /// The text is not well-formed XML.
    #[error(
        "line {line}, column {column}: the file is damaged or no MusicXML ({reason}); export it again from the \
         program that made it"
    )]
    NotXml {
        /// The line, counted from 1.
        line: u32,
        /// The column, counted from 1.
        column: u32,
        /// What the parser met.
        reason: String,
    },
    /// It defines XML entities of its own, which no MusicXML file does.
    #[error("line {line}: the file defines XML entities, which MusicXML never needs; it was not opened")]
    Entities {
        /// The line, counted from 1.
        line: u32,
    },
    /// It is well-formed, but something else.
    #[error(
        "line {line}: the file begins with <{found}>, not with <score-partwise>; it is no MusicXML score"
    )]
    WrongRoot {
        /// The name of the outermost element.
        found: String,
        /// The line, counted from 1.
        line: u32,
    },
    /// A score in the other of the standard's two orders.
    #[error(
        "line {line}: the score is ordered by bars (score-timewise), which is not read; export it as \
         score-partwise, the usual order"
    )]
    Timewise {
        /// The line, counted from 1.
        line: u32,
    },
    /// A compressed file that is damaged or holds no score.
    #[error(
        "the compressed file can't be unpacked ({reason}); export it again or export uncompressed MusicXML"
    )]
    Container {
        /// What is wrong with it.
        reason: String,
    },
    /// A number beyond anything a score can mean.
    #[error("{at}line {line}: {what} can't be {found}; correct it in the program that made the file", at = in_bar(bar.as_deref()))]
    Absurd {
        /// What the number says.
        what: &'static str,
        /// What stands there.
        found: String,
        /// The bar's number, where it is inside one.
        bar: Option<String>,
        /// The line, counted from 1.
        line: u32,
    },
    /// A score without a note that could be a melody.
    #[error("the score holds no note with a pitch, so there is no melody to arrange")]
    NoNotes,
    /// A score without the part that is asked for.
    #[error("the score has no part “{wanted}”; its parts are {parts}")]
    NoPart {
        /// The name or number.
        wanted: String,
        /// The parts that there are.
        parts: String,
    },
    /// A score without places on a neck.
    #[error(
        "no note of the score carries a string and a fret, so it is no arrangement for guitar that can be judged"
    )]
    NoPlaces,
    /// Strings, frets or a capo that no instrument has.
    #[error("the file's instrument can't be: {0}")]
    Instrument(String),
    /// What was read makes no tune.
    #[error("the file can't be made into a tune: {0}")]
    Tune(TuneFault),
    /// A project file that a newer program has written.
    #[error(
        "the project was saved by a newer Handspan (format {found}, this one reads up to {known}); update Handspan"
    )]
    Newer {
        /// The version in the file.
        found: u32,
        /// The newest version that can be read.
        known: u32,
    },
    /// A project file that is damaged or was changed by hand.
    #[error("line {line}, column {column}: the project file can't be read ({reason})")]
    Project {
        /// The line, counted from 1.
        line: usize,
        /// The column, counted from 1.
        column: usize,
        /// What is wrong there.
        reason: String,
    },
    /// A project file with a value that cannot be.
    #[error("the project file can't be used: {0}")]
    ProjectValue(String),
}

fn in_bar(bar: Option<&str>) -> String {
    bar.map_or_else(String::new, |number| format!("bar {number}, "))
}
