//! How many voicings a chord has with no hand model: six strings, each silent or at fret 0 to 12, three or more
//! sounding, exactly the chord's classes, stopped frets at most three apart.
//!
//! Source: computed for this project by a plain product over the strings, apart from the program.

use handspan_core::grip::{BassChoice, VoicingWish, voicings};
use handspan_core::harmony::ChordSymbol;

use super::guitar;

const COUNTS: [(&str, usize); 5] = [("C", 475), ("Am", 485), ("E", 487), ("G7", 306), ("Cmaj7", 600)];

#[test]
fn chords_have_their_voicings() {
    for (text, expected) in COUNTS {
        let symbol = ChordSymbol::parse(text).unwrap();
        let chord = symbol.chord().unwrap();
        let wish = VoicingWish {
            bass: BassChoice::Free,
            required: chord.tones(),
            notes: 3..=6,
            ..VoicingWish::for_chord(chord)
        };
        let mut count = 0;
        voicings(&guitar(12), None, &wish, |voicing| {
            let stopped = || voicing.places().map(|p| p.fret.number()).filter(|fret| *fret > 0);
            let span = stopped().max().unwrap_or(0) - stopped().min().unwrap_or(0);
            count += usize::from(span <= 3);
        });
        assert_eq!(count, expected, "{text}");
    }
}
