//! Small scores for the judge's own tests.

use std::sync::Arc;

use crate::arrangement::{Score, ScoreNote};
use crate::demand::Part;
use crate::hand::{Finger, RightFinger};
use crate::harmony::{ChordSymbol, Key};
use crate::neck::{Fret, Instrument, Place, StringIndex, Touch};
use crate::spelling::{SpelledPitch, Spelling};
use crate::time::{Metre, Ticks};
use crate::tune::{Bar, ChordAt, MelodyNote, Tune, TuneParts};

/// The bars of every sample, in common time.
pub(super) const BARS: i64 = 2;

fn quarters(text: &str) -> Ticks {
    let count: f64 = text.parse().unwrap();
    Ticks::new((count * Ticks::PER_QUARTER as f64) as i64)
}

/// A note written `at length string fret finger pluck`, and `tied` where it is tied in; times in quarters, `-` for no
/// finger, `<12>` for a natural harmonic, `5<17>` for an artificial one. Its pitch is what sounds at its place, or of a
/// fret where no harmonic does.
pub(super) fn note(text: &str) -> ScoreNote {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (touch, fret) = match words[3].split_once('<') {
        None => (Touch::Plain, words[3]),
        Some(("", node)) => (Touch::Natural, node.trim_end_matches('>')),
        Some((stopped, _)) => (Touch::Artificial, stopped),
    };
    let place = Place {
        string: StringIndex::from_number(words[2].parse().unwrap()).unwrap(),
        fret: Fret::new(fret.parse().unwrap()),
    };
    let guitar = Instrument::classical();
    let sounds = guitar.sounding_by(place, touch).or_else(|| guitar.sounding(place)).unwrap();
    ScoreNote {
        at: quarters(words[0]),
        length: quarters(words[1]),
        written: SpelledPitch::new(sounds, Spelling::of_class_in(sounds.class(), 0)),
        place,
        touch,
        finger: words[4].parse().ok().and_then(Finger::from_number),
        pluck: RightFinger::from_letter(words[5].chars().next().unwrap()),
        part: Part::Inner,
        tied_in: words.get(6) == Some(&"tied"),
        tied_out: false,
    }
}

/// A tune of these melody notes with one chord symbol at its beginning.
pub(super) fn tune_of(melody: Vec<MelodyNote>, symbol: &ChordSymbol) -> Tune {
    let bars = (1..=BARS)
        .map(|number| Bar::plain(number.to_string(), Metre::COMMON.bar(), Metre::COMMON, Key::default()))
        .collect();
    let chords = vec![ChordAt { at: Ticks::ZERO, symbol: symbol.clone() }];
    Tune::try_new(TuneParts { bars, melody, chords, ..TuneParts::default() }).unwrap()
}

/// A score of these notes on a classical guitar; its tune's melody is the last of them.
pub(super) fn score_of(notes: &[&str], symbol: &ChordSymbol) -> Score {
    let mut notes: Vec<ScoreNote> = notes.iter().map(|text| note(text)).collect();
    notes.sort_by_key(|n| (n.at, n.place));
    let last = notes.last().unwrap();
    let melody = MelodyNote {
        at: last.at,
        length: last.length.max(Ticks::new(1)),
        written: last.written,
        tied_in: false,
        tied_out: false,
    };
    Score {
        tune: Arc::new(tune_of(vec![melody], symbol)),
        instrument: Instrument::classical(),
        notes,
        taps: Vec::new(),
    }
}
