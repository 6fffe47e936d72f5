//! Values that are written as a player writes them: notes, metres, grips.

use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, MAX_STRINGS, StringIndex, Touch};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::Metre;

/// Reads `Bb`.
pub(super) fn spelling(text: &str) -> Option<Spelling> {
    Spelling::read(text).filter(|(_, rest)| rest.is_empty()).map(|(spelling, _)| spelling)
}

/// Reads `Bb3`.
pub(super) fn spelled_pitch(text: &str) -> Option<SpelledPitch> {
    let (spelling, octave) = Spelling::read(text)?;
    let octave = octave.parse().ok()?;
    Some(SpelledPitch { spelling, octave }).filter(|written| written.pitch().is_some())
}

/// Reads a sounding pitch, `F#2`.
pub(super) fn pitch(text: &str) -> Option<Pitch> {
    spelled_pitch(text)?.pitch()
}

/// Reads `6/8`.
pub(super) fn metre(text: &str) -> Option<Metre> {
    let (beats, unit) = text.split_once('/')?;
    Metre::try_new(beats.parse().ok()?, unit.parse().ok()?)
}

/// Writes `free`, `C` or `C3`.
pub(super) fn bass_text(bass: BassChoice) -> String {
    match bass {
        BassChoice::Free => "free".to_owned(),
        BassChoice::Class(class) => class.to_string(),
        BassChoice::Exact(pitch) => pitch.to_string(),
    }
}

/// Reads what [`bass_text`] writes.
pub(super) fn bass(text: &str) -> Option<BassChoice> {
    if text == "free" {
        return Some(BassChoice::Free);
    }
    let class = || spelling(text).map(|s| BassChoice::Class(s.class()));
    pitch(text).map(BassChoice::Exact).or_else(class)
}

/// Writes the frets and the fingers of a grip from the lowest string to the highest, `x32010` and `x32010`; a fret of
/// two digits stands in brackets, a stopped string without a finger has `-` for its finger. A natural harmonic's node
/// stands in `<>`, the stopped fret of an artificial one in `[]`.
pub(super) fn grip_text(grip: &Grip, strings: usize) -> (String, String) {
    let highest = grip.strings().iter().map(|string| string.index() + 1).max();
    let count = strings.max(highest.unwrap_or(0));
    let (mut frets, mut fingers) = (String::new(), String::new());
    for string in StringIndex::all(count).rev() {
        let Some(hold) = grip.hold(string) else {
            frets.push('x');
            fingers.push('x');
            continue;
        };
        let fret = hold.fret().to_string();
        match (hold.touch(), fret.len()) {
            (Touch::Plain, 1) => frets.push_str(&fret),
            (Touch::Plain, _) => frets.extend(["(", &fret, ")"]),
            (Touch::Natural, _) => frets.extend(["<", &fret, ">"]),
            (Touch::Artificial, _) => frets.extend(["[", &fret, "]"]),
        }
        fingers.push(match hold.finger() {
            Some(finger) => finger.letter(),
            None if hold.fret().is_open() => '0',
            None => '-',
        });
    }
    (frets, fingers)
}

/// Reads what [`grip_text`] writes, for an instrument of so many strings.
pub(super) fn grip(frets: &str, fingers: &str, strings: usize) -> Option<Grip> {
    let frets = read_frets(frets)?;
    let fingers: Vec<char> = fingers.chars().collect();
    if frets.len() != fingers.len() || frets.len() < strings || frets.len() > MAX_STRINGS {
        return None;
    }
    let from_high = StringIndex::all(frets.len()).rev();
    let mut grip = Grip::SILENT;
    for (string, (fret, finger)) in from_high.zip(frets.into_iter().zip(fingers)) {
        let hold = match (fret, finger) {
            (None, 'x') => continue,
            (Some(hold), '0') if hold.fret().is_open() => hold,
            (Some(hold), '-') if !hold.fret().is_open() => hold,
            (Some(hold), letter) => hold.under(finger_of(letter)?)?,
            (None, _) => return None,
        };
        grip.set(string, Some(hold));
    }
    Some(grip)
}

fn finger_of(letter: char) -> Option<Finger> {
    let digits = std::iter::once(Finger::Thumb).chain(Finger::FOUR);
    digits.into_iter().find(|finger| finger.letter() == letter)
}

/// What the strings do, the fingers aside; none for a silent string.
fn read_frets(text: &str) -> Option<Vec<Option<Hold>>> {
    let mut frets = Vec::new();
    let mut left = text;
    while let Some(first) = left.chars().next() {
        left = &left[first.len_utf8()..];
        let (touch, closing) = match first {
            'x' => {
                frets.push(None);
                continue;
            }
            '(' => (Touch::Plain, ')'),
            '<' => (Touch::Natural, '>'),
            '[' => (Touch::Artificial, ']'),
            digit => {
                let fret = Fret::try_new(i32::try_from(digit.to_digit(10)?).ok()?)?;
                frets.push(Some(Hold::unfingered(fret)));
                continue;
            }
        };
        let (inside, after) = left.split_once(closing)?;
        left = after;
        frets.push(Some(Hold::touched(Fret::try_new(inside.parse().ok()?)?, touch)?));
    }
    Some(frets)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grips_read_as_players_write_them() {
        let check = |frets: &str, fingers: &str| {
            let read = grip(frets, fingers, 6).unwrap();
            assert_eq!(grip_text(&read, 6), (frets.to_owned(), fingers.to_owned()));
        };
        check("x32010", "x32010");
        check("(10)(12)(12)(11)(10)(10)", "134211");
        check("2x023x", "Tx0-3x");
        check("x3<12>[2]xx", "x3-1xx");
        assert_eq!(grip("x3<6>xxx", "x31xxx", 6), None, "no node lies above fret 6");
        assert_eq!(grip("x3201", "x3201", 6), None, "a string is missing");
        assert_eq!(grip("x32010", "x3201", 6), None, "a finger is missing");
        assert_eq!(grip("x(99)2010", "x32010", 6), None, "no such fret");
        assert_eq!(grip("x32010", "132010", 6), None, "a finger on a silent string");
    }

    #[test]
    fn basses_and_notes() {
        assert_eq!(bass("F#2"), Some(BassChoice::Exact(Pitch::new(42))));
        assert_eq!(bass("C-1"), Some(BassChoice::Exact(Pitch::new(0))));
        assert_eq!(bass("A#").map(bass_text).as_deref(), Some("A#"));
        assert_eq!(bass("free"), Some(BassChoice::Free));
        assert_eq!(bass("H2"), None);
        assert_eq!(spelled_pitch("Cb4").map(|p| p.to_string()).as_deref(), Some("Cb4"));
        assert_eq!(spelled_pitch("C99"), None);
    }
}
