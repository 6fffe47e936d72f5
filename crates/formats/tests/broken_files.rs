//! Files that nothing can be made of: a sentence each, never a panic.

#![expect(clippy::unwrap_used, reason = "a test that can't go on fails")]

use handspan_formats::{ReadError, load, musicxml};
use proptest::prelude::*;

const SCORE: &str = "<?xml version=\"1.0\"?>\n<score-partwise>\n<part id=\"P1\">\n<measure number=\"1\">\n<attributes>\
                     <divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>\n<note>\
                     <pitch><step>C</step><octave>5</octave></pitch><duration>16</duration></note>\n</measure>\n</part>\n\
                     </score-partwise>\n";

/// The sentence that a text is refused with.
fn refusal(text: &str) -> String {
    musicxml::read_tune(text.as_bytes()).unwrap_err().to_string()
}

#[test]
fn the_sound_score_is_read() {
    assert_eq!(musicxml::read_tune(SCORE.as_bytes()).unwrap().diagnostics, vec![]);
}

#[test]
fn truncated() {
    let message = refusal(&SCORE[..SCORE.len() / 2]);
    assert!(message.starts_with("line 5, column"), "{message}");
    assert!(message.contains("export it again from the program that made it"), "{message}");
}

#[test]
fn not_xml() {
    let message = refusal("Dear diary, today I practised.");
    assert!(message.starts_with("line 1, column 1: the file begins with “Dear diary, today"), "{message}");
}

#[test]
fn wrong_root() {
    assert_eq!(
        refusal("<!DOCTYPE html>\n<html></html>"),
        "line 2: the file begins with <html>, not with <score-partwise>; it is no MusicXML score"
    );
    assert!(refusal("<score-timewise/>").contains("export it as score-partwise"));
}

#[test]
fn no_notes() {
    let rests = SCORE.replace("<pitch><step>C</step><octave>5</octave></pitch>", "<rest/>");
    assert_eq!(refusal(&rests), "the score holds no note with a pitch, so there is no melody to arrange");
    assert!(musicxml::read_score(rests.as_bytes()).is_err());
}

#[test]
fn no_places_on_a_neck() {
    assert_eq!(musicxml::read_score(SCORE.as_bytes()), Err(ReadError::NoPlaces));
}

#[test]
fn absurd_numbers() {
    let check = |from: &str, to: &str, expected: &str| {
        let changed = SCORE.replace(from, to);
        assert_ne!(changed, SCORE);
        let message = refusal(&changed);
        assert!(message.starts_with("bar 1, line "), "{message}");
        assert!(message.contains(expected), "{message}");
    };
    check("<divisions>4", "<divisions>0", "the number of divisions of a quarter note can't be 0");
    check("<divisions>4", "<divisions>-4", "can't be -4");
    check("<divisions>4", "<divisions>NaN", "can't be NaN");
    check("<duration>16", "<duration>99999999999999999999", "a duration can't be 99999999999999999999");
    check("<duration>16", "<duration>100000", "a duration can't be 100000");
    check("<octave>5", "<octave>99", "the octave of a note can't be 99");
    check("<step>C", "<step>H", "the letter of a note can't be H");
    check("<octave>5", "<alter>40</alter><octave>5", "the accidental of a note can't be 40");
    check("<beats>4", "<beats>0", "the metre can't be 0/4");
    check("<beat-type>4", "<beat-type>5", "the metre can't be 4/5");
}

#[test]
fn empty_and_a_folder() {
    assert!(refusal("").starts_with("the file is empty"));
    let folder = tempfile::tempdir().unwrap();
    let message = load(folder.path()).unwrap_err().to_string();
    assert!(message.contains("it is a folder"), "{message}");
}

#[cfg(unix)]
#[test]
fn no_permission() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("locked.musicxml");
    std::fs::write(&path, SCORE).unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o000)).unwrap();
    match load(&path) {
        Err(error) => assert!(error.to_string().contains("you have no permission to read it"), "{error}"),
        Ok(_) => println!("skipped: this user may read everything"),
    }
}

#[test]
fn two_megabytes_in_one_line() {
    let note = "<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration></note>";
    let bar = format!("<measure number=\"1\">{}</measure>", note.repeat(4));
    let text = format!(
        "<score-partwise><part id=\"P1\">{}</part></score-partwise>",
        bar.repeat(2_000_000 / bar.len() + 1)
    );
    assert!(text.len() > 2_000_000);
    assert!(musicxml::read_tune(text.as_bytes()).unwrap().value.melody().len() > 20_000);
    // Every note with something to say about it, and an end that is missing.
    let lost = text.replace("<duration>1<", "<duration>0<");
    assert_eq!(refusal(&lost), "the score holds no note with a pitch, so there is no melody to arrange");
    assert!(refusal(&text[..text.len() - 3]).starts_with("line 1, column"));
    assert!(refusal(&"x".repeat(2_000_000)).starts_with("line 1, column 1"));
    assert!(refusal(&"<a>".repeat(700_000)).starts_with("line 1, column"));
}

#[test]
fn entities_are_not_opened() {
    let text = "<!DOCTYPE a [\n<!ENTITY b \"bbbbbbbbbb\">\n<!ENTITY c \"&b;&b;&b;&b;\">\n]><a>&c;</a>";
    assert!(refusal(text).starts_with("line 2: the file defines XML entities"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    /// Any byte of a score may be another.
    #[test]
    fn a_damaged_score_never_panics(places in prop::collection::vec((0..SCORE.len(), any::<u8>()), 1..4)) {
        let mut bytes = SCORE.as_bytes().to_vec();
        for (at, byte) in places {
            bytes[at] = byte;
        }
        for error in [musicxml::read_tune(&bytes).err(), musicxml::read_score(&bytes).err()].into_iter().flatten() {
            prop_assert!(!error.to_string().is_empty());
        }
    }

    /// Any number of a score may be another.
    #[test]
    fn a_score_with_other_numbers_never_panics(number in "[-0-9.+]{1,20}", which in 0..6_usize) {
        let element = ["divisions", "beats", "beat-type", "octave", "duration", "step"][which];
        let from = SCORE.find(&format!("<{element}>")).unwrap() + element.len() + 2;
        let mut text = SCORE.to_owned();
        text.replace_range(from..=from, &number);
        if let Err(error) = musicxml::read_tune(text.as_bytes()) {
            prop_assert!(!error.to_string().is_empty());
        }
    }
}
