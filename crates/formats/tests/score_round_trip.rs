//! Random arrangements, written as MusicXML and read back, are the same arrangements.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]

mod common;

use handspan_formats::musicxml;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_written_is_read_back(score in common::score()) {
        // Two notes that begin together on one string are no arrangement; their order means nothing.
        let doubled = score.notes.windows(2).any(|n| (n[0].at, n[0].place.string) == (n[1].at, n[1].place.string));
        prop_assume!(!doubled);
        let text = musicxml::write_score(&score);
        let read = musicxml::read_score(text.as_bytes()).unwrap();
        // Of chords whose tones the standard leaves open, reading says so each time.
        let lost = read.diagnostics.iter().find(|d| !d.message.starts_with("the standard does not say what sounds"));
        prop_assert_eq!(lost, None);
        prop_assert_eq!(read.value, score);
    }
}
