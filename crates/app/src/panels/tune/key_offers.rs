//! Where the tune lies on the neck, and where it would lie in another octave or key.

use handspan_core::arrangement::Edit;
use handspan_core::arrangement::transpositions;
use handspan_core::harmony::Key;
use handspan_core::neck::Instrument;
use handspan_core::pitch::Interval;
use handspan_core::spelling::Spelling;
use handspan_core::tune::Tune;

use crate::names;
use crate::session::Session;

/// How many keys are offered besides the octaves.
const KEYS: usize = 3;

/// A choice of octave or key.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KeyOffer {
    /// What it is called: `An octave lower`.
    pub name: String,
    /// What it does to the range.
    pub words: String,
    /// Whether every note has a place.
    pub is_playable: bool,
    /// Whether it holds now.
    pub is_now: bool,
    /// The change.
    pub edit: Edit,
}

impl KeyOffer {
    /// The tune as written, the octaves beside it, and the playable keys that have the most open strings. None where
    /// there is no note yet.
    pub fn all(session: &Session) -> Vec<Self> {
        let work = session.work();
        let (tune, instrument) = (&work.tune, &work.plan.instrument);
        if tune.melody().is_empty() {
            return Vec::new();
        }
        let playable = transpositions(tune, instrument);
        let open = |interval: Interval| open_strings(instrument, key(tune, interval));
        let mut keys: Vec<Interval> = playable.iter().copied().filter(|i| i.semitones() % 12 != 0).collect();
        keys.sort_by_key(|interval| (std::cmp::Reverse(open(*interval)), interval.semitones().abs()));
        keys.truncate(KEYS);
        let now = work.plan.transpose;
        let mut offered: Vec<Interval> = [0, -12, 12].map(Interval::new).into();
        offered.extend(keys);
        if !offered.contains(&now) {
            offered.push(now);
        }
        let choice = |interval: Interval| {
            let is_playable = playable.contains(&interval);
            Self {
                name: name(tune, interval),
                words: words(tune, instrument, interval, is_playable),
                is_playable,
                is_now: interval == now,
                edit: Edit::Transpose(interval),
            }
        };
        offered.into_iter().map(choice).collect()
    }
}

fn key(tune: &Tune, interval: Interval) -> Key {
    tune.bars()[0].key.transposed(interval).0
}

fn name(tune: &Tune, interval: Interval) -> String {
    match interval.semitones() {
        0 => "As written".to_owned(),
        12 => "An octave higher".to_owned(),
        -12 => "An octave lower".to_owned(),
        n if n > 0 => format!("{:#}, {n} semitones higher", key(tune, interval)),
        n => format!("{:#}, {} semitones lower", key(tune, interval), -n),
    }
}

fn words(tune: &Tune, instrument: &Instrument, interval: Interval, is_playable: bool) -> String {
    let (low, high) = tune.melody_range();
    let key = key(tune, interval);
    let moved = |pitch: handspan_core::pitch::Pitch| pitch.checked_add(interval);
    let (Some(low), Some(high)) = (moved(low), moved(high)) else {
        return "beyond all notes that there are".to_owned();
    };
    let range = format!("{} to {}", names::pitch(low, key), names::pitch(high, key));
    if !is_playable {
        return format!("{range}: not all of it lies on this neck");
    }
    // The highest string is where a melody rings; its fret tells how far up the neck one has to go.
    let top = instrument.places(high).min_by_key(|place| place.string);
    let top = top.map_or_else(String::new, |place| match place.fret.number() {
        0 => format!(", up to string {} open", place.string),
        fret => format!(", up to string {}, fret {fret}", place.string),
    });
    let open = crate::session::count(open_strings(instrument, key), "open string", "open strings");
    format!("{range}{top}; {open} in the key")
}

/// How many open strings belong to a key's scale.
fn open_strings(instrument: &Instrument, key: Key) -> usize {
    let first = i32::from(key.fifths()) - 1;
    let scale: Vec<_> = (first..first + 7).map(|fifths| Spelling::from_fifths(fifths).class()).collect();
    instrument.strings().filter(|string| scale.contains(&instrument.open_pitch(*string).class())).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn octaves_and_keys_of_the_demo_tune() {
        let lies = KeyOffer::all(&Session::on_demo());
        let names: Vec<_> = lies.iter().take(3).map(|lies| lies.name.as_str()).collect();
        assert_eq!(names, ["As written", "An octave lower", "An octave higher"]);
        assert_eq!(lies.iter().filter(|lies| lies.is_now).count(), 1);
        assert!(lies[0].is_now && lies[0].is_playable);
        assert!(lies.iter().skip(3).all(|lies| lies.is_playable));
    }
}
