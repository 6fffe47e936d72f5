//! Mending a tune: changes of what is given, as values.
//!
//! Each gives another tune that holds together, or a sentence why there is none. What a change does to bars and their
//! times stands in [`bars`] and, for another metre, in `metre`, to the melody in [`melody`], to bass line and hooks in
//! `lines`, to what stands above the staff in `marks`.

pub mod bars;
mod lines;
mod marks;
pub mod melody;
mod metre;

use std::ops::Range;

use thiserror::Error;

use self::metre::Rebarred;
use super::bar::BarBeat;
use super::line::Line;
use super::tune::{Tune, TuneFault};
use crate::harmony::{ChordSymbol, Key};
use crate::spelling::SpelledPitch;
use crate::time::{Metre, Tempo, Ticks};

/// The most bars that a tune is given by adding some.
pub const MOST_BARS: usize = 2_000;

/// One change of a tune.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Mend {
    /// Sets the title.
    Title(String),
    /// Sets who wrote it.
    Composer(String),
    /// Sets the chord symbol at a time; none takes it away, so that the one before holds on.
    Chord {
        /// From when on it holds.
        at: Ticks,
        /// The symbol.
        symbol: Option<ChordSymbol>,
    },
    /// Writes a melody note. Notes that begin in its time go; one that sounds into it ends where it begins.
    Note {
        /// When it begins.
        at: Ticks,
        /// How long it sounds.
        length: Ticks,
        /// What sounds.
        written: SpelledPitch,
    },
    /// Gives the melody note that begins at a time another pitch or spelling.
    Pitch {
        /// When it begins.
        at: Ticks,
        /// What sounds.
        written: SpelledPitch,
    },
    /// Makes the melody note that begins at a time longer or shorter.
    Length {
        /// When it begins.
        at: Ticks,
        /// How long it sounds then.
        length: Ticks,
    },
    /// Makes a passage silent. Notes that begin in it go; one that sounds into it ends where it begins.
    Silence(Range<Ticks>),
    /// Writes a note into a line. Notes of the line that begin in its time go; one that sounds into it ends where it
    /// begins.
    Line {
        /// The line.
        line: Line,
        /// When it begins.
        at: Ticks,
        /// How long it sounds.
        length: Ticks,
        /// What sounds.
        written: SpelledPitch,
    },
    /// Makes a passage of a line silent. Notes of the line that begin in it go; one that sounds into it ends where it
    /// begins.
    LineSilence {
        /// The line.
        line: Line,
        /// From when until before when.
        passage: Range<Ticks>,
    },
    /// Marks a passage of what is written as melody as a line: the notes that begin in it are no melody any more, and
    /// take the place of what the line had there.
    MarkAsLine {
        /// The line.
        line: Line,
        /// From when until before when.
        passage: Range<Ticks>,
    },
    /// Names the section that begins with a bar; none takes the name away.
    Section {
        /// The bar's index.
        bar: usize,
        /// The name.
        name: Option<String>,
    },
    /// Sets the key from a bar on, up to where it changes next. What sounds stays; what the key can't read is spelled
    /// anew.
    Key {
        /// The bar's index.
        bar: usize,
        /// The key.
        key: Key,
    },
    /// Sets the metre from a bar on, up to where it changes next. Bar lines are drawn anew and everything keeps its
    /// time; a last bar that comes out short is filled up with a rest.
    Metre {
        /// The bar's index.
        bar: usize,
        /// The metre.
        metre: Metre,
    },
    /// Sets the tempo from a bar on; none takes the tempo away that stands at its beginning.
    Tempo {
        /// The bar's index.
        bar: usize,
        /// The tempo.
        tempo: Option<Tempo>,
    },
    /// Adds silent bars of the same key and metre behind a bar.
    AddBars {
        /// The bar's index.
        after: usize,
        /// How many.
        count: usize,
    },
    /// Takes bars away, by their indices, with everything that begins in them.
    RemoveBars(Range<usize>),
}

/// Why a change can't be made.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum MendFault {
    /// There is no such bar.
    #[error("the tune has no such bar")]
    NoBar,
    /// There is no such time in the tune.
    #[error("the tune ends before that; add a bar first")]
    AfterEnd,
    /// A note that is to be changed is not there.
    #[error("no melody note begins in {0}")]
    NoNote(BarBeat),
    /// A passage that is to be marked has no melody.
    #[error("no melody note begins in the passage from {0}")]
    NoMelody(BarBeat),
    /// A note of no length.
    #[error("a note or a rest has to last some time")]
    NoLength,
    /// A note outside MIDI.
    #[error("there is no such note")]
    NoPitch,
    /// A note would end after the last bar.
    #[error("a note so long in {0} would end after the last bar; add a bar, or choose a shorter one")]
    NoRoom(BarBeat),
    /// A note would sound into the next one.
    #[error("the note can't last so long: the next one begins in {0}")]
    Crowded(BarBeat),
    /// A repeat, an ending or another sign would no longer stand at a bar line.
    #[error(
        "the bars of {metre} don't come out even at the end of bar {bar}: a repeat or an ending would be cut in two; change the metre from behind it, or add or take away bars before it"
    )]
    CutInTwo {
        /// The number of the bar before the sign.
        bar: String,
        /// The metre.
        metre: Metre,
    },
    /// A note sounds over a bar line that would move.
    #[error(
        "bar {0} would be filled up with a rest, but a note sounds on from it into the next one; end it at the line first"
    )]
    OverTheLine(String),
    /// Nothing would be left.
    #[error("a tune has at least one bar")]
    NoBarLeft,
    /// More bars than any tune has.
    #[error("a tune has at most {MOST_BARS} bars")]
    TooManyBars,
    /// What comes of it is no tune.
    #[error("that makes no tune: {0}")]
    NoTune(#[from] TuneFault),
}

impl Mend {
    /// The tune as it is after the change.
    ///
    /// # Errors
    /// A sentence why it can't be made; then nothing has changed.
    pub fn apply(&self, tune: &Tune) -> Result<Tune, MendFault> {
        let mut parts = tune.clone().into_parts();
        match self {
            Self::Title(title) => parts.title.clone_from(title),
            Self::Composer(composer) => parts.composer.clone_from(composer),
            Self::Chord { at, symbol } => marks::set_chord(tune, &mut parts, *at, symbol.clone())?,
            Self::Note { at, length, written } => melody::write(tune, &mut parts, *at, *length, *written)?,
            Self::Pitch { at, written } => melody::set_pitch(tune, &mut parts, *at, *written)?,
            Self::Length { at, length } => melody::set_length(tune, &mut parts, *at, *length)?,
            Self::Silence(passage) => melody::silence(tune, &mut parts, passage)?,
            Self::Line { line, at, length, written } => {
                lines::write(tune, &mut parts, *line, &(*at..*at + *length), *written)?;
            }
            Self::LineSilence { line, passage } => lines::silence(tune, &mut parts, *line, passage)?,
            Self::MarkAsLine { line, passage } => lines::mark(tune, &mut parts, *line, passage)?,
            Self::Section { bar, name } => {
                let bar = parts.bars.get_mut(*bar).ok_or(MendFault::NoBar)?;
                bar.section = name.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned);
            }
            Self::Key { bar, key } => marks::set_key(&mut parts, *bar, *key)?,
            Self::Tempo { bar, tempo } => marks::set_tempo(&mut parts, *bar, *tempo)?,
            Self::Metre { bar, metre } => parts = Rebarred::new(tune, *bar, *metre)?.parts(tune),
            Self::AddBars { .. } | Self::RemoveBars(_) => {
                parts = bars::relaid(tune, &self.layout(tune)?);
            }
        }
        melody::mend_ties(&mut parts);
        Ok(Tune::try_new(parts)?)
    }

    /// When something happens after the change that happened at a time of the tune before; none where it has gone
    /// together with its bar.
    pub fn carried(&self, tune: &Tune, at: Ticks) -> Option<Ticks> {
        match self {
            Self::Metre { bar, metre } => {
                Some(Rebarred::new(tune, *bar, *metre).map_or(at, |rebarred| rebarred.carried(at)))
            }
            Self::AddBars { .. } | Self::RemoveBars(_) => match self.layout(tune) {
                Ok(layout) => bars::carried(tune, &layout, at),
                Err(_) => Some(at),
            },
            _ => Some(at),
        }
    }

    /// The bars as they are after the change.
    fn layout(&self, tune: &Tune) -> Result<bars::Layout, MendFault> {
        match self {
            Self::AddBars { after, count } => bars::with_more(tune, *after, *count),
            Self::RemoveBars(gone) => bars::without(tune, gone),
            _ => Ok(bars::Layout::default()),
        }
    }
}
