//! Voicings: which strings sound at which frets, and every one that meets a wish.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::neck::{Fret, Instrument, MAX_STRINGS, Place, StringIndex};
use crate::pitch::{Pitch, PitchClass};

/// Which strings sound at which frets.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Voicing {
    frets: [Option<Fret>; MAX_STRINGS],
}

impl Voicing {
    /// Every string silent.
    pub const SILENT: Self = Self { frets: [None; MAX_STRINGS] };

    /// The fret of a string, none where it is silent.
    pub const fn fret(&self, string: StringIndex) -> Option<Fret> {
        self.frets[string.index()]
    }

    /// Changes one string.
    pub const fn set(&mut self, string: StringIndex, fret: Option<Fret>) {
        self.frets[string.index()] = fret;
    }

    /// The places that sound, highest string first.
    pub fn places(&self) -> impl DoubleEndedIterator<Item = Place> + '_ {
        StringIndex::all(MAX_STRINGS).filter_map(|string| Some(Place { string, fret: self.fret(string)? }))
    }

    /// How many strings sound.
    pub fn len(&self) -> usize {
        self.frets.iter().flatten().count()
    }

    /// Whether every string is silent.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// What sounds, from the highest string to the lowest.
    pub fn pitches<'a>(&'a self, instrument: &'a Instrument) -> impl Iterator<Item = Pitch> + 'a {
        self.places().filter_map(|place| instrument.sounding(place))
    }

    /// The frets from the lowest string to the highest, as players write them: `x32010`, or `x-10-12-12-12-x` where a
    /// fret has two figures.
    pub fn written(&self, string_count: usize) -> String {
        let frets: Vec<String> = StringIndex::all(string_count)
            .rev()
            .map(|string| self.fret(string).map_or_else(|| "x".to_owned(), |fret| fret.to_string()))
            .collect();
        let wide = frets.iter().any(|f| f.len() > 1);
        frets.join(if wide { "-" } else { "" })
    }
}

impl FromIterator<(StringIndex, Fret)> for Voicing {
    fn from_iter<I: IntoIterator<Item = (StringIndex, Fret)>>(places: I) -> Self {
        let mut voicing = Self::SILENT;
        for (string, fret) in places {
            voicing.set(string, Some(fret));
        }
        voicing
    }
}

impl fmt::Debug for Voicing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lowest = self.places().last().map_or(0, |place| place.string.index() + 1);
        write!(f, "Voicing({})", self.written(lowest.max(6)))
    }
}

/// Why a text is no voicing.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
#[error(
    "“{0}” is no voicing: write a fret or x for every string from the lowest to the highest, like x32010 or x-10-12-12-12-x"
)]
pub struct UnreadVoicing(String);

impl FromStr for Voicing {
    type Err = UnreadVoicing;

    fn from_str(text: &str) -> Result<Self, UnreadVoicing> {
        Self::read(text).map(|(voicing, _)| voicing)
    }
}

impl Voicing {
    /// Reads a fret for every string from the lowest to the highest, `x32010` or `10-8-10-x-10-x`; how many strings are
    /// named comes with it.
    ///
    /// # Errors
    /// What is written, where it names no voicing.
    pub fn read(text: &str) -> Result<(Self, usize), UnreadVoicing> {
        let unread = || UnreadVoicing(text.to_owned());
        let separated = text.contains(['-', ' ', ',']);
        let frets: Vec<String> = if separated {
            text.split(['-', ' ', ',']).filter(|f| !f.is_empty()).map(str::to_owned).collect()
        } else {
            text.chars().map(String::from).collect()
        };
        if !(4..=MAX_STRINGS).contains(&frets.len()) {
            return Err(unread());
        }
        let mut voicing = Self::SILENT;
        for (string, fret) in StringIndex::all(frets.len()).rev().zip(&frets) {
            if !fret.eq_ignore_ascii_case("x") {
                let number = fret.parse().ok().and_then(Fret::try_new).ok_or_else(unread)?;
                voicing.set(string, Some(number));
            }
        }
        Ok((voicing, frets.len()))
    }
}

/// What may be lowest.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum BassChoice {
    /// Any chord tone.
    #[default]
    Free,
    /// This note in any octave.
    Class(PitchClass),
    /// This very pitch.
    Exact(Pitch),
}

impl BassChoice {
    /// Whether a pitch may be the bass.
    pub fn admits(self, pitch: Pitch) -> bool {
        match self {
            Self::Free => true,
            Self::Class(class) => pitch.class() == class,
            Self::Exact(exact) => pitch == exact,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn written_voicings_are_read_back() {
        for text in ["x32010", "320001", "x-10-12-12-12-x", "xx0232", "0000"] {
            let voicing: Voicing = text.parse().unwrap();
            let strings = if text == "0000" { 4 } else { 6 };
            assert_eq!(voicing.written(strings), text);
        }
        for text in ["", "x3", "x3201a", "99-1-1-1", "x320100000000"] {
            assert!(text.parse::<Voicing>().is_err(), "{text}");
        }
    }
}
