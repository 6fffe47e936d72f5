//! Why there is no arrangement, and which transpositions would have one.

use itertools::Itertools as _;
use thiserror::Error;

use crate::demand::{Harmonic, WrittenNote};
use crate::neck::Instrument;
use crate::pitch::Interval;
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::{BarBeat, MelodyNote, Tune};

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
    /// There is nothing to choose: every note is given as it lies on the guitar.
    #[error(
        "this music is written out for the guitar already; keys, tunings and capo positions are compared for a tune \
         that is yet to be arranged"
    )]
    WrittenOut,
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
    let playable =
        |interval: &Interval| tune.melody().iter().all(|note| lies_on(instrument, tune, note, *interval));
    let all = (-FARTHEST_TRANSPOSITION..=FARTHEST_TRANSPOSITION).map(Interval::new).filter(playable);
    all.sorted_by_key(|interval| (interval.semitones().abs(), interval.semitones())).collect()
}

/// Whether a note of the melody, moved by an interval, can be sounded by itself, as the harmonic that it may be.
pub(super) fn lies_on(instrument: &Instrument, tune: &Tune, note: &MelodyNote, interval: Interval) -> bool {
    let Some(pitch) = note.pitch().checked_add(interval) else { return false };
    let as_harmonic = |harmonic: Harmonic| {
        let moved = if interval == Interval::default() { harmonic } else { harmonic.anywhere() };
        !WrittenNote { harmonic: Some(moved), ..WrittenNote::plain(pitch) }.holds(instrument).is_empty()
    };
    instrument.places(pitch).next().is_some()
        || tune.harmonic_at(note.at, note.pitch()).is_some_and(as_harmonic)
}
