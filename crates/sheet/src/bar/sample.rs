//! Small scores for the unit tests of this folder.

use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::hand::Finger;
use handspan_core::harmony::Key;
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Touch};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, Tune, TuneParts};

/// A score of notes written `at length string fret finger`, in quarters, `-` for no finger.
pub(super) fn score_of(notes: &[&str]) -> Score {
    let instrument = Instrument::classical();
    let mut notes: Vec<ScoreNote> = notes.iter().map(|text| note(&instrument, text)).collect();
    notes.sort_by_key(|note| (note.at, note.place));
    let bars = vec![Bar::plain("1".to_owned(), Ticks::QUARTER * 8, Metre::COMMON, Key::default())];
    let tune = Tune::try_new(TuneParts { bars, ..TuneParts::default() }).unwrap();
    Score { tune: Arc::new(tune), instrument, notes, taps: Vec::new() }
}

fn note(instrument: &Instrument, text: &str) -> ScoreNote {
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |index: usize| words[index].parse::<u8>().unwrap();
    let place = Place { string: StringIndex::from_number(number(2)).unwrap(), fret: Fret::new(number(3)) };
    let sounds = instrument.sounding(place).unwrap();
    ScoreNote {
        at: Ticks::QUARTER * i64::from(number(0)),
        length: Ticks::QUARTER * i64::from(number(1)),
        written: SpelledPitch::new(sounds, Spelling::of_class_in(sounds.class(), 0)),
        place,
        touch: Touch::Plain,
        finger: words[4].parse().ok().and_then(Finger::from_number),
        pluck: None,
        part: Part::Inner,
        tied_in: false,
        tied_out: false,
    }
}
