//! The options that say what is played on and by whom.

use std::str::FromStr;

use clap::Args;
use handspan_core::hand::{Hand, HandSize};
use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Instrument, MAX_STRINGS, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::Spelling;

use crate::failure::{Ended, Failure};
use crate::words::read_pitch;

/// The guitar and its player.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct GuitarOptions {
    /// The tuning: a name (standard, "drop D", DADGAD, "open G" …) or the open strings, the lowest first, as notes
    /// ("D A D G A D", "D2 A2 D3 G3 A3 D4") or MIDI numbers ("38 45 50 55 57 62") [standard]
    ///
    /// A note without an octave lies above the string before it; the first one lies nearest to the low E of a guitar.
    #[arg(long, value_name = "TUNING", value_parser = read_tuning)]
    tuning: Option<Tuning>,

    /// The fret the capo sits at, 0 for none [0]
    #[arg(long, value_name = "FRET", allow_negative_numbers = true, value_parser = read_capo)]
    capo: Option<u8>,

    #[command(flatten)]
    player: PlayerOptions,
}

/// The player alone.
#[derive(Args, Clone, Debug, Default)]
pub(crate) struct PlayerOptions {
    /// The left hand: small, medium, large, or its reach from finger 1 to finger 4 in millimetres (80 to 200) [medium]
    #[arg(long, value_name = "HAND", value_parser = HandOption::from_str)]
    hand: Option<HandOption>,
}

impl GuitarOptions {
    /// The guitar asked for; what was not asked for stays as it is in `given`.
    pub(crate) fn instrument(&self, given: &Instrument) -> Ended<Instrument> {
        let tuning = self.tuning.clone().unwrap_or_else(|| given.tuning().clone());
        let capo = self.capo.unwrap_or_else(|| given.capo());
        Instrument::try_new(tuning, given.frets_from_nut(), given.scale(), capo).map_err(Failure::fault)
    }

    /// The hand asked for, or the one given.
    pub(crate) fn hand(&self, given: Hand) -> Hand {
        self.player.hand(given)
    }
}

impl PlayerOptions {
    /// The hand asked for, or the one given.
    pub(crate) fn hand(&self, given: Hand) -> Hand {
        match self.hand {
            Some(HandOption(size)) => Hand { size, ..given },
            None => given,
        }
    }

    /// The hand asked for, as an option says it.
    pub(crate) fn written(&self) -> Option<String> {
        self.hand.map(|HandOption(size)| match size {
            HandSize::Small => "small".to_owned(),
            HandSize::Medium => "medium".to_owned(),
            HandSize::Large => "large".to_owned(),
            HandSize::Measured(reach) => reach.to_string(),
        })
    }
}

/// A hand as written in an option.
#[derive(Clone, Copy, Debug)]
struct HandOption(HandSize);

impl FromStr for HandOption {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let size = match text.to_lowercase().as_str() {
            "small" => HandSize::Small,
            "medium" => HandSize::Medium,
            "large" => HandSize::Large,
            reach => HandSize::Measured(read_reach(reach)?),
        };
        Ok(Self(size))
    }
}

fn read_capo(text: &str) -> Result<u8, String> {
    text.parse().ok().ok_or_else(|| "a capo sits at a fret, 0 for none".to_owned())
}

fn read_reach(text: &str) -> Result<Micrometres, String> {
    let number = text.trim_end_matches("mm").trim();
    let reach = number.parse().ok().map(Micrometres::from_millimetres);
    reach.filter(|r| (Hand::MEASURED_MIN..=Hand::MEASURED_MAX).contains(r)).ok_or_else(|| {
        format!(
            "a hand is small, medium, large, or its reach from finger 1 to finger 4, {} to {}",
            Hand::MEASURED_MIN,
            Hand::MEASURED_MAX
        )
    })
}

/// Reads tunings with semicolons between them, names alone also with commas: `standard, DADGAD`.
///
/// A comma may stand between the strings of one tuning as well, so that what reads as one tuning is one.
pub(crate) fn read_tunings(text: &str) -> Result<Vec<Tuning>, String> {
    let mut tunings = Vec::new();
    for part in text.split(';') {
        let by_name = || part.split(',').map(|one| read_tuning(one).ok()).collect::<Option<Vec<_>>>();
        match read_tuning(part) {
            Ok(tuning) => tunings.push(tuning),
            Err(why) => tunings.extend(by_name().ok_or(why)?),
        }
    }
    Ok(tunings)
}

/// Reads a tuning by its name or string by string: `DADGAD`, `D A D G A D`, `38 45 50 55 57 62`.
///
/// # Errors
/// What can be read, in words.
pub fn read_tuning(text: &str) -> Result<Tuning, String> {
    if let Some(tuning) = Tuning::named(text) {
        return Ok(tuning);
    }
    let unread = || {
        let names: Vec<&str> = Tuning::COMMON.iter().map(|(name, _)| *name).collect();
        format!(
            "a tuning is one of {}, or 4 to {MAX_STRINGS} open strings from the lowest on, like “D A D G A D” or “38 45 50 55 57 62”",
            names.join(", ")
        )
    };
    let words: Vec<&str> = text.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let words = if let [word] = words[..] { letters(word) } else { words };
    let mut strings: Vec<Pitch> = Vec::new();
    for word in words {
        strings.push(read_string(word, strings.last().copied()).ok_or_else(unread)?);
    }
    if !(4..=MAX_STRINGS).contains(&strings.len()) {
        return Err(unread());
    }
    if strings.first() > strings.last() {
        return Err("a tuning is named from the lowest string on, like “E2 A2 D3 G3 B3 E4”".to_owned());
    }
    let known =
        Tuning::COMMON.iter().find(|(_, open)| strings.iter().map(|p| p.midi()).eq(open.iter().copied()));
    let spelled: Vec<String> = strings.iter().map(|p| p.class().to_string()).collect();
    let name = known.map_or_else(|| spelled.join(" "), |(name, _)| (*name).to_owned());
    Ok(Tuning::from_low_to_high(name, strings))
}

/// A tuning as [`read_tuning`] reads it: by its name where that means these strings, otherwise string by string.
pub(crate) fn option_of_tuning(tuning: &Tuning) -> String {
    let named = Tuning::named(tuning.name()).filter(|named| named.open_strings() == tuning.open_strings());
    named.map_or_else(|| notes_of(tuning).join(" "), |named| named.name().to_owned())
}

/// The open strings, the lowest first.
pub(crate) fn notes_of(tuning: &Tuning) -> Vec<String> {
    tuning.open_strings().iter().rev().map(ToString::to_string).collect()
}

/// The notes of `EADGBE` or `EbAbDbGbBbEb`, one by one.
fn letters(word: &str) -> Vec<&str> {
    let begins = |(_, letter): &(usize, char)| letter.is_ascii_uppercase();
    let begins: Vec<usize> = word.char_indices().filter(begins).map(|(at, _)| at).collect();
    let ends = begins.iter().skip(1).copied().chain([word.len()]);
    begins.iter().zip(ends).map(|(begin, end)| &word[*begin..end]).collect()
}

/// Reads one open string: a MIDI number, a note with its octave, or a letter above the string before.
fn read_string(word: &str, below: Option<Pitch>) -> Option<Pitch> {
    if let Ok(number) = word.parse() {
        return Pitch::try_new(number);
    }
    if let Some(note) = read_pitch(word) {
        return note.pitch();
    }
    let (spelling, "") = Spelling::read(word)? else { return None };
    let lowest = below.map_or(LOWEST_E - 5, |p| i32::from(p.midi()) + 1);
    (lowest..lowest + 12).filter_map(Pitch::try_new).find(|p| p.class() == spelling.class())
}

/// The low E of a guitar.
const LOWEST_E: i32 = 40;

#[cfg(test)]
mod tests {
    use super::*;

    fn midi(text: &str) -> Vec<u8> {
        let tuning = read_tuning(text).unwrap();
        tuning.open_strings().iter().rev().map(|p| p.midi()).collect()
    }

    #[test]
    fn tunings_are_read_in_every_way() {
        let dadgad = [38, 45, 50, 55, 57, 62];
        for text in ["DADGAD", "D A D G A D", "38 45 50 55 57 62", "D2,A2,D3,G3,A3,D4"] {
            assert_eq!(midi(text), dadgad, "{text}");
            assert_eq!(read_tuning(text).unwrap().name(), "DADGAD");
        }
        assert_eq!(midi("C G C G C E"), midi("open C"));
        assert_eq!(midi("Eb Ab Db Gb Bb Eb"), midi("half-step down"));
        assert_eq!(midi("B E A D G B E"), [35, 40, 45, 50, 55, 59, 64]);
        assert_eq!(midi("D3 G3 B3 E4"), [50, 55, 59, 64]);
        assert_eq!(midi("EADGBE"), midi("standard"));
        assert_eq!(midi("EbAbDbGbBbEb"), midi("half-step down"));
    }

    #[test]
    fn what_is_no_tuning_is_refused_with_the_names() {
        for text in ["", "E A D", "H A D G B E", "999 1 2 3", "open Q", "E A D G B E A D G B E"] {
            assert!(read_tuning(text).unwrap_err().contains("DADGAD"), "{text}");
        }
    }

    #[test]
    fn several_tunings_stand_apart() {
        let names = |text: &str| -> Vec<String> {
            read_tunings(text).unwrap().iter().map(|tuning| tuning.name().to_owned()).collect()
        };
        assert_eq!(names("standard,DADGAD"), ["standard", "DADGAD"]);
        assert_eq!(names("drop D; D,A,D,G,A,D;E A D G B D"), ["drop D", "DADGAD", "E A D G B D"]);
        assert_eq!(names("E A D G B E, D A D G B D"), ["standard", "double drop D"]);
        assert!(read_tunings("standard,nonsense").unwrap_err().contains("open strings"));
        assert!(read_tunings("standard;").is_err());
    }

    #[test]
    fn a_tuning_upside_down_is_refused() {
        assert!(read_tuning("E4 B3 G3 D3 A2 E2").unwrap_err().contains("from the lowest string on"));
    }

    #[test]
    fn hands_are_read() {
        let size = |text: &str| text.parse::<HandOption>().map(|HandOption(size)| size);
        assert_eq!(size("Large"), Ok(HandSize::Large));
        assert_eq!(size("128.5mm"), Ok(HandSize::Measured(Micrometres::new(128_500))));
        assert!(size("300").is_err());
        assert!(size("tiny").is_err());
    }
}
