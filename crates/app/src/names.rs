//! How notes, chords and places are written on the screen.

use handspan_core::arrangement::{Arrangement, Score};
use handspan_core::hand::Finger;
use handspan_core::harmony::{ChordSymbol, Key};
use handspan_core::neck::Place;
use handspan_core::pitch::Pitch;
use handspan_core::route::Early;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::Ticks;

/// The key that holds at a time, as it sounds.
pub fn key_at(score: &Score, at: Ticks) -> Key {
    score.tune.bars()[score.tune.bar_index(at)].key
}

/// A pitch as the key spells it, with its octave: `B♭3`.
pub fn pitch(pitch: Pitch, key: Key) -> String {
    let spelling = Spelling::of_class_in(pitch.class(), i32::from(key.fifths()));
    format!("{:#}", SpelledPitch::new(pitch, spelling))
}

/// The note that sounds at a place, as it is written at a time.
pub fn sounding(score: &Score, place: Place, at: Ticks) -> String {
    let sounds = score.instrument.sounding(place);
    sounds.map_or_else(String::new, |pitch| format!("{:#}", score.tune.spelled(at, pitch)))
}

/// The chord symbol in force at a time, with real signs; empty where there is none.
pub fn chord_at(score: &Score, at: Ticks) -> String {
    score.tune.chord_at(at).map_or_else(String::new, chord)
}

/// A chord symbol with real signs.
pub fn chord(symbol: &ChordSymbol) -> String {
    format!("{symbol:#}")
}

/// What is said at a moment of a finger that may be down already: `Finger 3 may go down here already, for beat 3`.
pub fn early(arrangement: &Arrangement, moment: usize, early: &Early, place: &str) -> String {
    let tune = &arrangement.score.tune;
    let [now, then] = [moment, early.lands].map(|index| arrangement.moments[index].at);
    let when = match tune.bar_beat(then).to_string() {
        when if tune.bar_index(now) == tune.bar_index(then) => when.rsplit(", ").next().map(str::to_owned),
        when => Some(when),
    };
    let finger = match early.finger {
        Finger::Thumb => "The thumb".to_owned(),
        finger => format!("Finger {finger}"),
    };
    format!("{finger} may go down {place} already, for {}", when.unwrap_or_default())
}

/// Points with a real minus sign.
pub fn points(points: i32) -> String {
    if points < 0 { format!("−{}", -points) } else { points.to_string() }
}

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
