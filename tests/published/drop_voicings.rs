//! Cmaj7 in drop-2 and drop-3 voicings, every inversion.
//!
//! Source: harmony handbooks (of a close voicing the second or third voice from the top an octave lower); the frets are
//! computed from that for this project, apart from the program.

use std::collections::BTreeSet;

use handspan_core::grip::{BassChoice, Voicing, VoicingWish, grips};
use handspan_core::hand::Hand;
use handspan_core::harmony::ChordSymbol;

use super::guitar;

const DROP_2_ON_4321: [&str; 4] = ["x-x-5-5-5-7", "x-x-9-9-8-8", "x-x-10-12-12-12", "x-x-2-4-1-3"];
const DROP_3_ON_6432: [&str; 4] = ["3-x-2-4-1-x", "7-x-5-5-5-x", "8-x-9-9-8-x", "12-x-10-12-12-x"];

#[test]
fn the_enumeration_holds_every_drop_voicing() {
    let symbol = ChordSymbol::parse("Cmaj7").unwrap();
    let chord = symbol.chord().unwrap();
    let wish = VoicingWish {
        bass: BassChoice::Free,
        required: chord.tones(),
        notes: 4..=4,
        ..VoicingWish::for_chord(chord)
    };
    let found: BTreeSet<Voicing> =
        grips(&guitar(19), &Hand::default(), &wish).iter().map(handspan_core::grip::Grip::voicing).collect();
    for text in DROP_2_ON_4321.into_iter().chain(DROP_3_ON_6432) {
        let voicing: Voicing = text.parse().unwrap();
        assert!(found.contains(&voicing), "{text} is missing");
    }
}
