//! The instrument as data: strings, tuning, frets, scale length, capo.

use thiserror::Error;

use super::geometry::{self, Micrometres};
use super::harmonic::{Node, Touch};
use super::place::{Fret, MAX_STRINGS, Place, StringIndex};
use crate::pitch::{Interval, Pitch};

/// The open strings, highest first, with the name players give them.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Tuning {
    name: String,
    open: Vec<Pitch>,
}

/// Why an instrument cannot be.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Error)]
pub enum InstrumentFault {
    /// Fewer than four strings or more than ten.
    #[error("an instrument has 4 to {MAX_STRINGS} strings, not {0}")]
    Strings(usize),
    /// Fewer than 12 frets or more than 24.
    #[error("a neck has 12 to {max} frets, not {0}", max = Fret::MAX)]
    Frets(u8),
    /// A scale length nobody builds.
    #[error("a scale length lies between 500 and 750 mm, not at {0}")]
    Scale(Micrometres),
    /// The capo leaves fewer than five frets.
    #[error("a capo at fret {0} leaves too little neck")]
    Capo(u8),
    /// An open string sounds too high for its highest fret.
    #[error("string {0} sounds beyond MIDI's highest note at the last fret")]
    TooHigh(StringIndex),
}

impl Tuning {
    /// Tunings that players use, low string to high as MIDI numbers (common practice; handbook tables).
    pub const COMMON: [(&'static str, [u8; 6]); 9] = [
        ("standard", [40, 45, 50, 55, 59, 64]),
        ("drop D", [38, 45, 50, 55, 59, 64]),
        ("double drop D", [38, 45, 50, 55, 59, 62]),
        ("DADGAD", [38, 45, 50, 55, 57, 62]),
        ("open D", [38, 45, 50, 54, 57, 62]),
        ("open G", [38, 43, 50, 55, 59, 62]),
        ("open C", [36, 43, 48, 55, 60, 64]),
        ("G6", [38, 43, 50, 55, 59, 64]),
        ("half-step down", [39, 44, 49, 54, 58, 63]),
    ];

    /// The six strings E A D G B E.
    pub fn standard() -> Self {
        let (name, low_to_high) = Self::COMMON[0];
        Self::from_low_to_high(name, low_to_high.map(Pitch::new))
    }

    /// A tuning of [`Self::COMMON`] by its name, in any case and with or without spaces.
    pub fn named(name: &str) -> Option<Self> {
        let plain = |s: &str| s.chars().filter(|c| c.is_alphanumeric()).collect::<String>().to_lowercase();
        let (name, low_to_high) = Self::COMMON.into_iter().find(|(n, _)| plain(n) == plain(name))?;
        Some(Self::from_low_to_high(name, low_to_high.map(Pitch::new)))
    }

    /// A tuning from its open strings, the lowest string first, as players spell them.
    pub fn from_low_to_high(name: impl Into<String>, strings: impl IntoIterator<Item = Pitch>) -> Self {
        let mut open: Vec<Pitch> = strings.into_iter().collect();
        open.reverse();
        Self { name: name.into(), open }
    }

    /// What players call it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The open strings without capo, highest string first.
    pub fn open_strings(&self) -> &[Pitch] {
        &self.open
    }
}

/// A fretted instrument under a left hand.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Instrument {
    tuning: Tuning,
    frets: u8,
    scale: Micrometres,
    capo: u8,
    body_joint: u8,
}

impl Instrument {
    /// The scale length of a classical guitar.
    pub const CLASSICAL_SCALE: Micrometres = Micrometres::new(650_000);

    /// A classical guitar: standard tuning, 19 frets, 650 mm, no capo, the body in the way from fret 12.
    pub fn classical() -> Self {
        Self { tuning: Tuning::standard(), frets: 19, scale: Self::CLASSICAL_SCALE, capo: 0, body_joint: 12 }
    }

    /// An instrument with everything given but the body joint, which stays at fret 12.
    ///
    /// # Errors
    /// Names the first thing that cannot be.
    pub fn try_new(tuning: Tuning, frets: u8, scale: Micrometres, capo: u8) -> Result<Self, InstrumentFault> {
        if !(4..=MAX_STRINGS).contains(&tuning.open.len()) {
            return Err(InstrumentFault::Strings(tuning.open.len()));
        }
        if !(12..=Fret::MAX).contains(&frets) {
            return Err(InstrumentFault::Frets(frets));
        }
        if !(500_000..=750_000).contains(&scale.count()) {
            return Err(InstrumentFault::Scale(scale));
        }
        if capo > frets - 5 {
            return Err(InstrumentFault::Capo(capo));
        }
        let too_high = tuning.open.iter().position(|p| p.midi() + frets > Pitch::MAX);
        if let Some(string) = too_high {
            return Err(InstrumentFault::TooHigh(StringIndex::new(string)));
        }
        Ok(Self { tuning, frets, scale, capo, body_joint: 12 })
    }

    /// The tuning without capo.
    pub const fn tuning(&self) -> &Tuning {
        &self.tuning
    }

    /// How many strings there are.
    pub fn string_count(&self) -> usize {
        self.tuning.open.len()
    }

    /// The strings, highest first.
    pub fn strings(&self) -> impl DoubleEndedIterator<Item = StringIndex> + ExactSizeIterator + use<> {
        StringIndex::all(self.string_count())
    }

    /// The lowest string, the only one the thumb may hold.
    pub fn lowest_string(&self) -> StringIndex {
        StringIndex::new(self.string_count() - 1)
    }

    /// Frets of the whole neck, counted from the nut.
    pub const fn frets_from_nut(&self) -> u8 {
        self.frets
    }

    /// The highest fret, counted from the capo.
    pub const fn last_fret(&self) -> Fret {
        Fret::new(self.frets - self.capo)
    }

    /// The fret the capo sits at, 0 for none.
    pub const fn capo(&self) -> u8 {
        self.capo
    }

    /// Nut to bridge, without capo.
    pub const fn scale(&self) -> Micrometres {
        self.scale
    }

    /// The fret (from the nut) beyond which the body is in the way.
    pub const fn body_joint(&self) -> u8 {
        self.body_joint
    }

    /// What a string sounds when nothing is pressed, the capo included.
    pub fn open_pitch(&self, string: StringIndex) -> Pitch {
        let open = self.tuning.open[string.index()];
        open.checked_add(Interval::new(i16::from(self.capo))).unwrap_or(open)
    }

    /// What sounds at a place, or none beyond the last fret or string.
    pub fn sounding(&self, place: Place) -> Option<Pitch> {
        if place.string.index() >= self.string_count() || place.fret > self.last_fret() {
            return None;
        }
        self.open_pitch(place.string).checked_add(Interval::new(i16::from(place.fret.number())))
    }

    /// What sounds at a place when the string is touched in a certain way, or none where nothing does.
    pub fn sounding_by(&self, place: Place, touch: Touch) -> Option<Pitch> {
        let stopped = self.sounding(place)?;
        match touch {
            Touch::Plain => Some(stopped),
            Touch::Natural => self.open_pitch(place.string).checked_add(Node::at(place.fret)?.above_open()),
            Touch::Artificial => {
                let reaches = !place.fret.is_open() && place.fret <= Touch::HIGHEST_STOPPED;
                stopped.checked_add(Touch::OCTAVE).filter(|_| reaches)
            }
        }
    }

    /// Where a pitch sounds on one string, if it does.
    pub fn fret_of(&self, pitch: Pitch, string: StringIndex) -> Option<Fret> {
        let above_open = (pitch - self.open_pitch(string)).semitones();
        Fret::try_new(i32::from(above_open)).filter(|fret| *fret <= self.last_fret())
    }

    /// Every place where a pitch sounds, highest string first.
    pub fn places(&self, pitch: Pitch) -> impl Iterator<Item = Place> {
        self.strings().filter_map(move |string| Some(Place { string, fret: self.fret_of(pitch, string)? }))
    }

    /// Every node of the neck at which an open string sounds a pitch, highest string first.
    pub fn nodes(&self, pitch: Pitch) -> impl Iterator<Item = (StringIndex, Node)> {
        let sounds = move |string, node: &Node| {
            let place = Place { string, fret: node.fret() };
            self.sounding_by(place, Touch::Natural) == Some(pitch)
        };
        let all = move |string| Node::ALL.into_iter().map(move |node| (string, node));
        self.strings().flat_map(all).filter(move |(string, node)| sounds(*string, node))
    }

    /// Every place that is stopped to sound a pitch as an artificial harmonic, highest string first.
    pub fn stopped_for(&self, pitch: Pitch) -> impl Iterator<Item = Place> {
        let places = self.strings().flat_map(|string| {
            (1..=Touch::HIGHEST_STOPPED.number()).map(move |fret| Place { string, fret: Fret::new(fret) })
        });
        places.filter(move |place| self.sounding_by(*place, Touch::Artificial) == Some(pitch))
    }

    /// The lowest and the highest pitch it sounds, harmonics aside.
    pub fn range(&self) -> (Pitch, Pitch) {
        let lowest = self.strings().map(|s| self.open_pitch(s)).min();
        let highest =
            self.strings().filter_map(|s| self.sounding(Place { string: s, fret: self.last_fret() })).max();
        (lowest.unwrap_or(Pitch::new(0)), highest.unwrap_or(Pitch::new(Pitch::MAX)))
    }

    /// Where a fingertip presses to sound a fret, measured from the real nut.
    pub fn press_point(&self, fret: Fret) -> Micrometres {
        geometry::press_point(self.scale, fret.number() + self.capo)
    }

    /// Where a fret wire lies, measured from the real nut; fret 0 is the capo or the nut.
    pub fn wire(&self, fret: Fret) -> Micrometres {
        geometry::wire(self.scale, fret.number() + self.capo)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_the_open_string() {
        let standard =
            |frets| Instrument::try_new(Tuning::standard(), frets, Instrument::CLASSICAL_SCALE, 0).unwrap();
        let e4 = Pitch::new(64);
        assert_eq!(standard(14).places(e4).count(), 4);
        assert_eq!(standard(24).places(e4).count(), 6);
    }

    #[test]
    fn a_capo_shortens_the_neck_and_raises_the_strings() {
        let guitar = Instrument::try_new(Tuning::standard(), 19, Instrument::CLASSICAL_SCALE, 3).unwrap();
        assert_eq!(guitar.open_pitch(StringIndex::new(0)), Pitch::new(67));
        assert_eq!(guitar.last_fret(), Fret::new(16));
        assert_eq!(guitar.wire(Fret::OPEN), geometry::wire(Instrument::CLASSICAL_SCALE, 3));
    }

    #[test]
    fn impossible_instruments_are_named() {
        let make = |strings: usize, frets, capo| {
            let tuning = Tuning::from_low_to_high("test", (0..strings).map(|s| Pitch::new(40 + 5 * s as u8)));
            Instrument::try_new(tuning, frets, Instrument::CLASSICAL_SCALE, capo).err()
        };
        assert_eq!(make(3, 19, 0), Some(InstrumentFault::Strings(3)));
        assert_eq!(make(6, 30, 0), Some(InstrumentFault::Frets(30)));
        assert_eq!(make(6, 19, 15), Some(InstrumentFault::Capo(15)));
        assert_eq!(make(6, 19, 255), Some(InstrumentFault::Capo(255)));
        assert_eq!(make(6, 19, 14), None);
    }
}
