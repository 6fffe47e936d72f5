//! All 33 kinds of chord with their intervals.
//!
//! Source: MusicXML 4.0, data type `kind-value` (W3C Music Notation Community Group, Final Report 2021). The four
//! functional sixths and `other` have no intervals there; `none` is no chord.

use handspan_core::harmony::Kind;

/// The standard's word, and the intervals above the root; nothing where the standard leaves them open.
const KINDS: [(&str, &str); 33] = [
    ("major", "M3 P5"),
    ("minor", "m3 P5"),
    ("augmented", "M3 A5"),
    ("diminished", "m3 d5"),
    ("dominant", "M3 P5 m7"),
    ("major-seventh", "M3 P5 M7"),
    ("minor-seventh", "m3 P5 m7"),
    ("diminished-seventh", "m3 d5 d7"),
    ("augmented-seventh", "M3 A5 m7"),
    ("half-diminished", "m3 d5 m7"),
    ("major-minor", "m3 P5 M7"),
    ("major-sixth", "M3 P5 M6"),
    ("minor-sixth", "m3 P5 M6"),
    ("dominant-ninth", "M3 P5 m7 M9"),
    ("major-ninth", "M3 P5 M7 M9"),
    ("minor-ninth", "m3 P5 m7 M9"),
    ("dominant-11th", "M3 P5 m7 M9 P11"),
    ("major-11th", "M3 P5 M7 M9 P11"),
    ("minor-11th", "m3 P5 m7 M9 P11"),
    ("dominant-13th", "M3 P5 m7 M9 P11 M13"),
    ("major-13th", "M3 P5 M7 M9 P11 M13"),
    ("minor-13th", "m3 P5 m7 M9 P11 M13"),
    ("suspended-second", "M2 P5"),
    ("suspended-fourth", "P4 P5"),
    ("Neapolitan", ""),
    ("Italian", ""),
    ("French", ""),
    ("German", ""),
    ("pedal", "P1"),
    ("power", "P5"),
    ("Tristan", "A4 A6 A9"),
    ("other", ""),
    ("none", ""),
];

/// Semitones of an interval named by quality and number.
fn semitones(name: &str) -> u8 {
    let (quality, number) = name.split_at(1);
    let number: u8 = number.parse().unwrap();
    let step = (number - 1) % 7;
    let perfect_or_major = [0, 2, 4, 5, 7, 9, 11][usize::from(step)] + 12 * ((number - 1) / 7);
    let perfect = matches!(step, 0 | 3 | 4);
    match quality {
        "m" => perfect_or_major - 1,
        "A" => perfect_or_major + 1,
        "d" if perfect => perfect_or_major - 1,
        "d" => perfect_or_major - 2,
        _ => perfect_or_major,
    }
}

#[test]
fn kinds_have_the_intervals_of_the_standard() {
    for (word, intervals) in KINDS {
        let Some(kind) = Kind::from_musicxml(word) else {
            assert_eq!(word, "none");
            continue;
        };
        let mut expected: Vec<u8> = intervals.split_whitespace().map(semitones).collect();
        if !expected.is_empty() {
            expected.insert(0, 0);
            expected.dedup();
        }
        assert_eq!(kind.intervals(), expected, "{word}");
        assert_eq!(kind.has_intervals(), !intervals.is_empty(), "{word}");
        assert_eq!(kind.musicxml(), word);
    }
    assert_eq!(Kind::all().count() + 1, KINDS.len());
}
