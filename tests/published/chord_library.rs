//! Hundreds of chords by kind, by degrees and by text, with the pitch classes that sound.
//!
//! Source: `chord_kinds.json` of the shared data, written by hand from the kind values of MusicXML 4.0 and the common
//! usage of lead sheets, apart from the program. Where the folder is not there the test says so and is skipped.

use std::path::PathBuf;

use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Kind};
use handspan_core::spelling::Spelling;
use serde_json::Value;

/// Entries whose expectation is not ours, with the reason. There are none.
const EXCEPTIONS: [(&str, &str); 0] = [];

fn library() -> Option<Value> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../shared");
    let shared = std::env::var_os("HANDSPAN_SHARED").map_or_else(beside, PathBuf::from);
    let text = std::fs::read_to_string(shared.join("data/chord_kinds.json")).ok()?;
    Some(serde_json::from_str(&text).unwrap())
}

/// The symbol that an entry describes.
fn symbol(entry: &Value) -> ChordSymbol {
    if let Some(text) = entry["text"].as_str() {
        return ChordSymbol::parse(text).unwrap_or_else(|error| panic!("{error}"));
    }
    let spelling = |name: &str| Spelling::read(name).unwrap().0;
    let Some(kind) = Kind::from_musicxml(entry["kind"].as_str().unwrap()) else {
        return ChordSymbol::NoChord;
    };
    let mut chord = Chord::plain(spelling(entry["root"].as_str().unwrap()), kind);
    chord.bass = entry["bass"].as_str().map(spelling);
    chord.degrees = entry["degrees"].as_array().unwrap().iter().map(degree).collect();
    ChordSymbol::Chord(chord)
}

fn degree(entry: &Value) -> Degree {
    let kind = match entry[2].as_str().unwrap() {
        "add" => DegreeKind::Add,
        "alter" => DegreeKind::Alter,
        _ => DegreeKind::Subtract,
    };
    let number = |value: &Value| value.as_i64().unwrap() as i8;
    Degree::new(number(&entry[0]).unsigned_abs(), number(&entry[1]), kind)
}

fn sounding(symbol: &ChordSymbol) -> Vec<u64> {
    let tones = symbol.chord().map(Chord::tones).unwrap_or_default();
    tones.iter().map(|class| u64::from(class.number())).collect()
}

#[test]
fn every_chord_of_the_library_sounds_as_expected() {
    let Some(library) = library() else {
        println!("skipped: there is no shared data");
        return;
    };
    let mut compared = 0;
    let mut wrong = Vec::new();
    for entry in library["entries"].as_array().unwrap() {
        let Some(expected) = entry["expected"].as_array() else {
            continue;
        };
        let expected: Vec<u64> = expected.iter().filter_map(Value::as_u64).collect();
        let symbol = symbol(entry);
        let again = ChordSymbol::parse(&symbol.to_string()).unwrap();
        compared += 1;
        let excepted = EXCEPTIONS.iter().any(|(text, _)| *text == symbol.to_string());
        if (sounding(&symbol) != expected || sounding(&again) != expected) && !excepted {
            wrong.push(format!("{entry} is {symbol}: {:?}", sounding(&symbol)));
        }
    }
    assert_eq!(wrong, [""; 0]);
    let known = library["agree"].as_u64().unwrap() + library["disagree"].as_u64().unwrap();
    assert_eq!(compared, known);
}
