//! Chord symbols as text: what is written is read back, and no text makes the reader panic.

#![expect(clippy::unwrap_used, reason = "a test fails loudly")]

use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Kind};
use handspan_core::spelling::Spelling;
use proptest::prelude::*;

fn any_spelling() -> impl Strategy<Value = Spelling> {
    (-9..=12).prop_map(Spelling::from_fifths)
}

fn any_degree() -> impl Strategy<Value = Degree> {
    let kind = prop_oneof![Just(DegreeKind::Add), Just(DegreeKind::Alter), Just(DegreeKind::Subtract)];
    (1_u8..=13, -2_i8..=2, kind).prop_map(|(number, alter, kind)| Degree::new(number, alter, kind))
}

prop_compose! {
    /// Any chord whose degrees differ in number.
    fn any_chord()(
        root in any_spelling(),
        kind in 0..Kind::all().count(),
        bass in prop::option::of(any_spelling()),
        mut degrees in prop::collection::vec(any_degree(), 0..4),
    ) -> Chord {
        degrees.sort_by_key(|d| d.number);
        degrees.dedup_by_key(|d| d.number);
        let kind = Kind::all().nth(kind).unwrap();
        Chord { degrees, bass, ..Chord::plain(root, kind) }
    }
}

proptest! {
    #[test]
    fn what_is_written_sounds_the_same_when_read(chord in any_chord()) {
        for text in [chord.to_string(), format!("{chord:#}")] {
            let read = ChordSymbol::parse(&text).map_err(|e| TestCaseError::fail(e.to_string()))?;
            let read = read.chord().cloned().unwrap();
            prop_assert_eq!(read.tones(), chord.tones(), "{}", text);
            prop_assert_eq!((read.root, read.bass), (chord.root, chord.bass), "{}", text);
        }
    }

    #[test]
    fn writing_and_reading_is_the_identity_on_what_was_read(chord in any_chord()) {
        let read = ChordSymbol::parse(&chord.to_string()).unwrap();
        prop_assert_eq!(ChordSymbol::parse(&read.to_string()), Ok(read));
    }

    #[test]
    fn nonsense_is_refused_without_panic(text in "\\PC{0,12}") {
        let _read = ChordSymbol::parse(&text);
    }

    #[test]
    fn nonsense_after_a_root_is_refused_without_panic(text in "[A-G][b#mM7951/()sudimajo+°ø♭ -]{0,10}") {
        if let Ok(read) = ChordSymbol::parse(&text) {
            prop_assert_eq!(ChordSymbol::parse(&read.to_string()), Ok(read));
        }
    }
}
