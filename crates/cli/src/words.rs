//! Notes, basses and numbers of notes as players write them in options.

use std::ops::RangeInclusive;
use std::str::FromStr;

use handspan_core::grip::BassChoice;
use handspan_core::neck::MAX_STRINGS;
use handspan_core::spelling::{SpelledPitch, Spelling};

/// Reads a note with its octave, `E5` or `Bb3`; C4 is the middle C.
pub(crate) fn read_pitch(text: &str) -> Option<SpelledPitch> {
    let (spelling, octave) = Spelling::read(text)?;
    let octave = octave.parse().ok().filter(|o| (-1..=9).contains(o))?;
    let note = SpelledPitch { spelling, octave };
    note.pitch().map(|_| note)
}

/// Reads the melody note.
pub(crate) fn read_melody(text: &str) -> Result<SpelledPitch, String> {
    read_pitch(text).ok_or_else(|| {
        "a melody note is a letter and its octave, like E5 or Bb4; C4 is the middle C".to_owned()
    })
}

/// Reads what may be lowest: `free`, a note in any octave, or this very note.
pub(crate) fn read_bass(text: &str) -> Result<BassChoice, String> {
    if text.eq_ignore_ascii_case("free") {
        return Ok(BassChoice::Free);
    }
    if let Some((spelling, "")) = Spelling::read(text) {
        return Ok(BassChoice::Class(spelling.class()));
    }
    read_pitch(text).and_then(SpelledPitch::pitch).map(BassChoice::Exact).ok_or_else(|| {
        "a bass is a note in any octave, like C, a note with its octave, like C3, or free".to_owned()
    })
}

/// Reads how many strings sound: `4` or `3-5`.
pub(crate) fn read_count(text: &str) -> Result<RangeInclusive<usize>, String> {
    read_range(text)
        .filter(|range| (1..=MAX_STRINGS).contains(range.start()) && *range.end() <= MAX_STRINGS)
        .ok_or_else(|| format!("a number of notes is like 4 or 3-5, at most {MAX_STRINGS}"))
}

/// Reads where a capo may sit: `2` or `0-4`.
pub(crate) fn read_capos(text: &str) -> Result<RangeInclusive<u8>, String> {
    read_range(text)
        .ok_or_else(|| "capo positions are a fret like 2 or frets like 0-4, 0 for no capo".to_owned())
}

/// A number alone or the first and the last of several: `4`, `3-5`.
fn read_range<T: FromStr + PartialOrd + Copy>(text: &str) -> Option<RangeInclusive<T>> {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let number = |text: &str| text.trim().parse::<T>().ok();
    let (first, last) = (number(first)?, number(last)?);
    (first <= last).then_some(first..=last)
}

#[cfg(test)]
mod tests {
    use handspan_core::pitch::{Pitch, PitchClass};

    use super::*;

    #[test]
    fn notes_carry_their_octave() {
        assert_eq!(read_pitch("E5").and_then(SpelledPitch::pitch), Some(Pitch::new(76)));
        assert_eq!(read_pitch("C-1").and_then(SpelledPitch::pitch), Some(Pitch::new(0)));
        for text in ["", "E", "5", "E10", "Cb-1", "H4", "e4x"] {
            assert_eq!(read_pitch(text), None, "{text}");
        }
    }

    #[test]
    fn basses_and_counts() {
        assert_eq!(read_bass("Free"), Ok(BassChoice::Free));
        assert_eq!(read_bass("F#"), Ok(BassChoice::Class(PitchClass::from_semitones(6))));
        assert_eq!(read_bass("Bb2"), Ok(BassChoice::Exact(Pitch::new(46))));
        assert!(read_bass("low").is_err());
        assert_eq!(read_count("4"), Ok(4..=4));
        assert_eq!(read_count("3-5"), Ok(3..=5));
        for text in ["5-3", "0", "11", "three", "3-"] {
            assert!(read_count(text).is_err(), "{text}");
        }
        assert_eq!((read_capos("3"), read_capos("0 - 4")), (Ok(3..=3), Ok(0..=4)));
        for text in ["4-0", "-1", "high", "0-300", "", "0-2-4"] {
            assert!(read_capos(text).is_err(), "{text}");
        }
    }
}
