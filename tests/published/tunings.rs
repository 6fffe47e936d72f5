//! Tunings, low string to high.
//!
//! Source: common practice, as handbooks of open and altered tunings list them; MIDI numbers.

use handspan_core::neck::Tuning;
use handspan_core::pitch::Pitch;

const TUNINGS: [(&str, &str, [u8; 6]); 9] = [
    ("standard", "E2 A2 D3 G3 B3 E4", [40, 45, 50, 55, 59, 64]),
    ("drop D", "D2 A2 D3 G3 B3 E4", [38, 45, 50, 55, 59, 64]),
    ("double drop D", "D2 A2 D3 G3 B3 D4", [38, 45, 50, 55, 59, 62]),
    ("DADGAD", "D2 A2 D3 G3 A3 D4", [38, 45, 50, 55, 57, 62]),
    ("open D", "D2 A2 D3 F#3 A3 D4", [38, 45, 50, 54, 57, 62]),
    ("open G", "D2 G2 D3 G3 B3 D4", [38, 43, 50, 55, 59, 62]),
    ("open C", "C2 G2 C3 G3 C4 E4", [36, 43, 48, 55, 60, 64]),
    ("G6", "D2 G2 D3 G3 B3 E4", [38, 43, 50, 55, 59, 64]),
    ("half-step down", "D#2 G#2 C#3 F#3 A#3 D#4", [39, 44, 49, 54, 58, 63]),
];

#[test]
fn tunings_are_what_players_call_them() {
    for (name, notes, midi) in TUNINGS {
        let tuning = Tuning::named(name).unwrap();
        let strings: Vec<Pitch> = tuning.open_strings().iter().rev().copied().collect();
        assert_eq!(strings, midi.map(Pitch::new), "{name}");
        let written: Vec<String> = strings.iter().map(ToString::to_string).collect();
        assert_eq!(written.join(" "), notes, "{name}");
    }
    assert_eq!(TUNINGS.len(), Tuning::COMMON.len());
}
