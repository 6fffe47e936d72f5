//! Why there is no arrangement, and which transpositions would have one.

use itertools::Itertools as _;
use thiserror::Error;

use crate::neck::Instrument;
use crate::pitch::Interval;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::{BarBeat, Tune};

/// Why a tune cannot be arranged as planned.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum Impossible {
    /// There is nothing to arrange.
    #[error("there is no melody note yet; write some, and they are arranged")]
    NoMelody,
    /// A melody note lies beyond the instrument.
    #[error(
        "the melody note {note} in {bar_beat} lies beyond this instrument; {}",
        transpositions_sentence(transpositions)
    )]
    OutOfRange {
        /// Where.
        bar_beat: BarBeat,
        /// The note.
        note: SpelledPitch,
        /// The transpositions of the tune as written that lie within, nearest first.
        transpositions: Vec<Interval>,
    },
    /// The tune would leave the range of MIDI.
    #[error("moved by {0} semitones the tune would leave the range of notes that exist")]
    BeyondMidi(i16),
    /// What is locked cannot be kept.
    #[error(
        "no hand can keep what is locked in {bar_beat} together with the melody; unlock it, or lock another grip"
    )]
    Lock {
        /// When, in written order.
        at: Ticks,
        /// Where.
        bar_beat: BarBeat,
    },
}

fn transpositions_sentence(transpositions: &[Interval]) -> String {
    if transpositions.is_empty() {
        return "its range is too wide for any transposition".to_owned();
    }
    let nearest = transpositions.iter().take(NEAREST);
    let list =
        nearest.map(|t| if t.semitones() == 0 { "0".to_owned() } else { format!("{:+}", t.semitones()) });
    let list = list.format(", ");
    format!("it can be played when the tune is moved by one of these numbers of semitones: {list}")
}

/// How many transpositions a sentence names.
const NEAREST: usize = 8;

/// How far from the tune as written transpositions are looked for, in semitones.
const FARTHEST_TRANSPOSITION: i16 = 24;

/// The transpositions under which every melody note has a place, the nearest first.
pub fn transpositions(tune: &Tune, instrument: &Instrument) -> Vec<Interval> {
    let playable = |interval: &Interval| {
        let mut moved = tune.melody().iter().map(|note| note.pitch().checked_add(*interval));
        moved.all(|pitch| pitch.is_some_and(|p| instrument.places(p).next().is_some()))
    };
    let all = (-FARTHEST_TRANSPOSITION..=FARTHEST_TRANSPOSITION).map(Interval::new).filter(playable);
    all.sorted_by_key(|interval| (interval.semitones().abs(), interval.semitones())).collect()
}
