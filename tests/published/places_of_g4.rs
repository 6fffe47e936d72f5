//! Where G4 (MIDI 67) sounds: string and fret.
//!
//! Source: Fernando Sor, Method for the Spanish Guitar (1830), names the first three on a neck of his time; the other
//! two follow on longer necks (computed).

use handspan_core::pitch::Pitch;

use super::guitar;

const PLACES: [(u8, u8); 5] = [(1, 3), (2, 8), (3, 12), (4, 17), (5, 22)];

#[test]
fn g4_is_where_the_method_says() {
    for (frets, count) in [(12, 3), (19, 4), (22, 5)] {
        let places: Vec<(u8, u8)> = guitar(frets)
            .places(Pitch::new(67))
            .map(|place| (place.string.number(), place.fret.number()))
            .collect();
        assert_eq!(places, PLACES[..count], "{frets} frets");
    }
}
