//! What is being set up, and what is wrong with it in words.

use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Instrument, MAX_STRINGS, Tuning};
use handspan_core::pitch::{Interval, Pitch};

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
    /// The strings that were taken away, the one taken last at the end: they come back when there are more again.
    taken_away: Vec<Pitch>,
}

impl GuitarModel {
    /// The guitar as it is.
    pub fn of(instrument: &Instrument) -> Self {
        Self {
            tuning: in_short(instrument.tuning()),
            frets: instrument.frets_from_nut(),
            scale: instrument.scale().millimetres(),
            capo: instrument.capo(),
            taken_away: Vec::new(),
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

    /// The same guitar with so many strings: it loses its lowest ones; those come back first, and further ones lie a
    /// fourth below, as on guitars of seven strings (B1) and eight (F#1). None where a string would be too low to be.
    pub fn with_strings(&self, count: usize) -> Option<Self> {
        let tuning = handspan_cli::read_tuning(self.tuning.trim()).unwrap_or_else(|_| Tuning::standard());
        let mut taken_away = self.taken_away.clone();
        // Highest first.
        let mut open = tuning.open_strings().to_vec();
        while open.len() > count {
            taken_away.extend(open.pop());
        }
        while open.len() < count {
            let below = open.last()?.checked_add(FOURTH_BELOW);
            open.push(taken_away.pop().or(below)?);
        }
        let tuning = in_short(&Tuning::from_low_to_high("", open.into_iter().rev()));
        Some(Self { tuning, taken_away, ..self.clone() })
    }

    /// Another tuning: strings that were taken away belonged to the one before.
    pub fn retune(&mut self, tuning: &str) {
        tuning.clone_into(&mut self.tuning);
        self.taken_away.clear();
    }

    /// The names that players have for tunings of as many strings.
    pub fn names(&self) -> Vec<&'static str> {
        let strings = self.guitar().map_or(0, |guitar| guitar.string_count());
        let of_as_many = Tuning::COMMON.iter().filter(|(_, open)| open.len() == strings);
        of_as_many.map(|(name, _)| *name).collect()
    }

    /// The name of the tuning, where it has one.
    pub fn name(&self) -> Option<&'static str> {
        let guitar = self.guitar().ok()?;
        self.names().into_iter().find(|name| is_called(guitar.tuning(), name))
    }

    /// How many strings there can be.
    pub const STRINGS: std::ops::RangeInclusive<usize> = 4..=MAX_STRINGS;
}

/// Five semitones, by which most strings lie apart.
const FOURTH_BELOW: Interval = Interval::new(-5);

/// The name of a tuning, or else its strings.
fn in_short(tuning: &Tuning) -> String {
    let name = Tuning::COMMON.iter().map(|(name, _)| *name).find(|name| is_called(tuning, name));
    name.map_or_else(|| notes(tuning), str::to_owned)
}

fn is_called(tuning: &Tuning, name: &str) -> bool {
    Tuning::named(name).is_some_and(|named| named.open_strings() == tuning.open_strings())
}

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
    fn strings_are_added_and_taken_away_at_the_bass() {
        let tunings: Vec<String> = GuitarModel::STRINGS
            .map(|count| classical().with_strings(count).expect("it can be").tuning)
            .collect();
        assert_eq!(
            tunings,
            [
                "D3 G3 B3 E4",
                "A2 D3 G3 B3 E4",
                "standard",
                "B1 E2 A2 D3 G3 B3 E4",
                "F#1 B1 E2 A2 D3 G3 B3 E4",
                "C#1 F#1 B1 E2 A2 D3 G3 B3 E4",
                "G#0 C#1 F#1 B1 E2 A2 D3 G3 B3 E4",
            ]
        );
    }

    #[test]
    fn another_number_of_strings_and_back_gives_back_what_was_there() {
        let open_c = GuitarModel { tuning: "open C".to_owned(), ..classical() };
        for first in GuitarModel::STRINGS {
            for second in GuitarModel::STRINGS {
                let there = open_c.with_strings(first).and_then(|model| model.with_strings(second));
                let back = there.and_then(|model| model.with_strings(6));
                assert_eq!(back.expect("it can be").tuning, "open C", "{first}, {second}");
            }
        }
        // A tuning chosen in between is another guitar.
        let mut four = open_c.with_strings(4).expect("it can be");
        four.retune("D3 G3 B3 E4");
        assert_eq!(four.with_strings(6).expect("it can be").tuning, "standard");
    }

    #[test]
    fn tunings_have_names_where_players_have_some() {
        let model = GuitarModel { tuning: "D A D G A D".to_owned(), ..classical() };
        assert_eq!((model.name(), model.names().len()), (Some("DADGAD"), Tuning::COMMON.len()));
        assert!(model.with_strings(7).expect("it can be").names().is_empty());
    }
}
