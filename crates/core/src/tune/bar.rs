//! Bars: their length, metre and key, and the signs at their lines.

use std::fmt;

use crate::harmony::Key;
use crate::time::{Metre, Ticks};

/// A bar in written order.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Bar {
    /// The number as printed, `0` or `X1` where the source says so.
    pub number: String,
    /// When it begins; set by [`super::Tune::try_new`] from the lengths.
    pub start: Ticks,
    /// How long it is: a pickup is shorter than its metre.
    pub length: Ticks,
    /// The metre in force.
    pub metre: Metre,
    /// The key in force.
    pub key: Key,
    /// A section that begins here, by its printed name.
    pub section: Option<String>,
    /// A repeat begins at the bar's left line.
    pub repeat_start: bool,
    /// A repeat ends at the bar's right line: how often the passage is played in all, 2 or more.
    pub repeat_end: Option<u8>,
    /// A numbered ending that begins here.
    pub ending: Option<Ending>,
    /// The numbered ending that is open stops at the bar's right line.
    pub ending_stops: bool,
    /// The segno stands here.
    pub segno: bool,
    /// The coda begins here.
    pub coda: bool,
    /// After a jump, the bar is left for the coda.
    pub to_coda: bool,
    /// After a jump, the tune ends with this bar.
    pub fine: bool,
    /// A jump at the end of the bar.
    pub jump: Option<Jump>,
}

/// A numbered ending.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Ending {
    /// The passes it is played in: `1`, or `1, 2`.
    pub passes: Vec<u8>,
}

/// Where to go on.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Jump {
    /// D.C.: from the beginning.
    DaCapo,
    /// D.S.: from the segno.
    DalSegno,
}

impl Bar {
    /// A bar without any sign.
    pub fn plain(number: impl Into<String>, length: Ticks, metre: Metre, key: Key) -> Self {
        Self {
            number: number.into(),
            start: Ticks::ZERO,
            length,
            metre,
            key,
            section: None,
            repeat_start: false,
            repeat_end: None,
            ending: None,
            ending_stops: false,
            segno: false,
            coda: false,
            to_coda: false,
            fine: false,
            jump: None,
        }
    }

    /// When it ends.
    pub fn end(&self) -> Ticks {
        self.start + self.length
    }

    /// Whether playing may go on elsewhere than in the bar written next.
    pub fn leaves(&self) -> bool {
        self.repeat_end.is_some() || self.to_coda || self.fine || self.jump.is_some()
    }

    /// Whether playing may come from elsewhere than the bar written before.
    pub fn is_entered(&self) -> bool {
        self.repeat_start || self.ending.is_some() || self.segno || self.coda
    }
}

/// A place in the tune as players say it: bar 7, beat 2½.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct BarBeat {
    /// The bar's printed number.
    pub bar: String,
    /// Ticks since the bar line.
    pub since_bar: Ticks,
    /// The length of a beat there.
    pub beat_length: Ticks,
}

impl BarBeat {
    /// The beat, counted from 1; halves and thirds as fractions, for figures.
    pub fn beat(&self) -> f64 {
        1.0 + self.since_bar.count() as f64 / self.beat_length.count() as f64
    }
}

/// Writes `bar 7, beat 2` or, between beats, `bar 7, beat 2.5`.
impl fmt::Display for BarBeat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths = libm::round(self.beat() * 100.0) / 100.0;
        write!(f, "bar {}, beat {hundredths}", self.bar)
    }
}
