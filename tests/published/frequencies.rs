//! Frequencies of the open strings in hertz.
//!
//! Source: ISO 16:1975, A4 = 440 Hz, in equal temperament: 440 · 2^((n − 69) / 12).

use handspan_core::neck::Tuning;

const HERTZ_LOW_TO_HIGH: [f64; 6] = [82.407, 110.000, 146.832, 195.998, 246.942, 329.628];

#[test]
fn open_strings_sound_at_their_frequencies() {
    let standard = Tuning::standard();
    let strings = standard.open_strings().iter().rev();
    assert_eq!(strings.len(), HERTZ_LOW_TO_HIGH.len());
    for (string, hertz) in strings.zip(HERTZ_LOW_TO_HIGH) {
        let off = (string.hertz() - hertz).abs();
        assert!(off < 0.0005, "{string} sounds at {} Hz, not {hertz}", string.hertz());
    }
}
