//! What is being set up, and what is wrong with it in words.

use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Instrument, MAX_STRINGS, Tuning};
use handspan_core::pitch::Pitch;

/// A guitar that is being set up.
#[derive(Clone, PartialEq, Debug)]
pub struct GuitarModel {
    /// The tuning as typed: a name, or the open strings from the lowest on.
    pub tuning: String,
    /// How many frets the neck has.
    pub frets: u8,
    /// Nut to bridge, in millimetres.
    pub scale: f64,
    /// The fret of the capo.
    pub capo: u8,
}

impl GuitarModel {
    /// The guitar as it is.
    pub fn of(instrument: &Instrument) -> Self {
        let tuning = instrument.tuning();
        let common = Tuning::named(tuning.name()).is_some_and(|named| named == *tuning);
        Self {
            tuning: if common { tuning.name().to_owned() } else { notes(tuning) },
            frets: instrument.frets_from_nut(),
            scale: instrument.scale().millimetres(),
            capo: instrument.capo(),
        }
    }

    /// The guitar that is set up so.
    ///
    /// # Errors
    /// What cannot be, in words.
    pub fn guitar(&self) -> Result<Instrument, String> {
        let tuning = handspan_cli::read_tuning(self.tuning.trim())?;
        let scale = Micrometres::from_millimetres(self.scale);
        Instrument::try_new(tuning, self.frets, scale, self.capo).map_err(|fault| fault.to_string())
    }

    /// The open strings with their octaves, the lowest first: `D2 A2 D3 G3 A3 D4`.
    pub fn in_words(&self) -> Option<String> {
        let guitar = self.guitar().ok()?;
        Some(format!("{} strings: {}", guitar.string_count(), notes(guitar.tuning())))
    }

    /// The same guitar with so many strings: further ones lie a fourth below, or above once that is too low.
    pub fn with_strings(&self, count: usize) -> Option<Self> {
        let open: Vec<u8> = match handspan_cli::read_tuning(self.tuning.trim()) {
            Ok(tuning) => tuning.open_strings().iter().map(|p| p.midi()).collect(),
            Err(_) => Tuning::standard().open_strings().iter().map(|p| p.midi()).collect(),
        };
        // Highest first: what is taken away or added is the lowest string.
        let mut open: Vec<u8> = open.into_iter().take(count).collect();
        while open.len() < count {
            let below = open.last()?.checked_sub(FOURTH).filter(|pitch| *pitch >= LOWEST);
            match below {
                Some(pitch) => open.push(pitch),
                None => open.insert(0, open.first()? + FOURTH),
            }
        }
        let low_to_high = open.into_iter().rev().map(Pitch::new);
        Some(Self { tuning: notes(&Tuning::from_low_to_high("", low_to_high)), ..self.clone() })
    }

    /// How many strings there can be.
    pub const STRINGS: std::ops::RangeInclusive<usize> = 4..=MAX_STRINGS;
}

/// Five semitones, by which most strings lie apart.
const FOURTH: u8 = 5;
/// The lowest string that is added below: E1, an octave below the low E.
const LOWEST: u8 = 28;

fn notes(tuning: &Tuning) -> String {
    let names: Vec<String> = tuning.open_strings().iter().rev().map(ToString::to_string).collect();
    names.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn classical() -> GuitarModel {
        GuitarModel::of(&Instrument::classical())
    }

    #[test]
    fn a_guitar_is_set_up_as_typed() {
        let model = GuitarModel { tuning: "C G D G A D".to_owned(), frets: 22, scale: 640.0, ..classical() };
        let guitar = model.guitar().unwrap();
        assert_eq!((guitar.frets_from_nut(), guitar.scale().count()), (22, 640_000));
        assert_eq!(model.in_words().unwrap(), "6 strings: C2 G2 D3 G3 A3 D4");
        assert_eq!(GuitarModel::of(&guitar).guitar().unwrap(), guitar.clone());
    }

    #[test]
    fn what_cannot_be_is_said_in_words() {
        let said = |model: GuitarModel| model.guitar().unwrap_err();
        assert!(
            said(GuitarModel { tuning: "E H A".to_owned(), ..classical() }).contains("4 to 10 open strings")
        );
        assert_eq!(said(GuitarModel { capo: 18, ..classical() }), "a capo at fret 18 leaves too little neck");
    }

    #[test]
    fn strings_are_added_and_taken_away() {
        for count in GuitarModel::STRINGS {
            let model = classical().with_strings(count).unwrap();
            assert_eq!(model.guitar().unwrap().string_count(), count, "{}", model.tuning);
        }
        assert_eq!(classical().with_strings(7).unwrap().tuning, "B1 E2 A2 D3 G3 B3 E4");
    }
}
