//! The melody: notes written, moved and taken away, and what a player means by a letter or a step.

use std::ops::Range;

use super::MendFault;
use crate::harmony::Key;
use crate::pitch::{Interval, Pitch};
use crate::spelling::{SpelledPitch, Spelling, Step};
use crate::time::Ticks;
use crate::tune::note::MelodyNote;
use crate::tune::tune::{Tune, TuneParts};

pub(super) fn write(
    tune: &Tune,
    parts: &mut TuneParts,
    at: Ticks,
    length: Ticks,
    written: SpelledPitch,
) -> Result<(), MendFault> {
    written.pitch().ok_or(MendFault::NoPitch)?;
    make_room(tune, parts, &(at..at + length))?;
    parts.melody.push(MelodyNote { at, length, written, tied_in: false, tied_out: false });
    Ok(())
}

pub(super) fn silence(tune: &Tune, parts: &mut TuneParts, passage: &Range<Ticks>) -> Result<(), MendFault> {
    make_room(tune, parts, passage)
}

/// Makes a passage silent that lies in the tune.
fn make_room(tune: &Tune, parts: &mut TuneParts, passage: &Range<Ticks>) -> Result<(), MendFault> {
    lies_in(tune, passage)?;
    parts.melody.retain(|note| !passage.contains(&note.at));
    for note in parts.melody.iter_mut().filter(|n| n.at < passage.start && n.end() > passage.start) {
        note.length = passage.start - note.at;
    }
    Ok(())
}

/// Whether a passage lies in the tune.
pub(super) fn lies_in(tune: &Tune, passage: &Range<Ticks>) -> Result<(), MendFault> {
    if passage.start < Ticks::ZERO || passage.start >= tune.end() {
        return Err(MendFault::AfterEnd);
    }
    if passage.start >= passage.end {
        return Err(MendFault::NoLength);
    }
    if passage.end > tune.end() {
        return Err(MendFault::NoRoom(tune.bar_beat(passage.start)));
    }
    Ok(())
}

fn note_at<'a>(tune: &Tune, parts: &'a mut TuneParts, at: Ticks) -> Result<&'a mut MelodyNote, MendFault> {
    parts.melody.iter_mut().find(|note| note.at == at).ok_or_else(|| MendFault::NoNote(tune.bar_beat(at)))
}

pub(super) fn set_pitch(
    tune: &Tune,
    parts: &mut TuneParts,
    at: Ticks,
    written: SpelledPitch,
) -> Result<(), MendFault> {
    written.pitch().ok_or(MendFault::NoPitch)?;
    note_at(tune, parts, at)?.written = written;
    Ok(())
}

pub(super) fn set_length(
    tune: &Tune,
    parts: &mut TuneParts,
    at: Ticks,
    length: Ticks,
) -> Result<(), MendFault> {
    if length <= Ticks::ZERO {
        return Err(MendFault::NoLength);
    }
    note_at(tune, parts, at)?.length = length;
    let next = tune.melody().iter().find(|note| note.at > at);
    match next.filter(|next| next.at < at + length) {
        Some(next) => Err(MendFault::Crowded(tune.bar_beat(next.at))),
        None if at + length > tune.end() => Err(MendFault::NoRoom(tune.bar_beat(at))),
        None => Ok(()),
    }
}

/// Takes ties over repeats and jumps away that no longer have two ends of one pitch at the lines of bars.
pub(super) fn mend_ties(parts: &mut TuneParts) {
    let starts = |parts: &TuneParts, at: Ticks| parts.bars.iter().any(|bar| bar.start == at);
    let ends = |parts: &TuneParts, at: Ticks| parts.bars.iter().any(|bar| bar.end() == at);
    let mut start = Ticks::ZERO;
    for bar in &mut parts.bars {
        bar.start = start;
        start += bar.length;
    }
    let into: Vec<SpelledPitch> =
        parts.melody.iter().filter(|n| n.tied_in && starts(parts, n.at)).map(|n| n.written).collect();
    let out_of: Vec<SpelledPitch> =
        parts.melody.iter().filter(|n| n.tied_out && ends(parts, n.end())).map(|n| n.written).collect();
    for note in &mut parts.melody {
        note.tied_in &= into.contains(&note.written) && out_of.contains(&note.written);
        note.tied_out &= into.contains(&note.written) && out_of.contains(&note.written);
    }
}

/// The note of a letter that lies nearest to another note, with the accidental that the key gives it. Of two as near
/// the lower one.
pub fn nearest(letter: Step, key: Key, to: Pitch) -> SpelledPitch {
    let spelling = Spelling::new(letter, key.accidental_of(letter));
    let distance = |note: &SpelledPitch| note.pitch().map_or(i16::MAX, |p| (p - to).semitones().abs());
    let octaves = (-1..=9).map(|octave| SpelledPitch { spelling, octave });
    octaves.min_by_key(distance).unwrap_or(SpelledPitch { spelling, octave: 4 })
}

/// The note so many letters higher, or lower, in a key's scale.
pub fn along_scale(written: SpelledPitch, key: Key, letters: i32) -> SpelledPitch {
    let number = written.spelling.step as i32 + letters;
    let step = Step::ALL[number.rem_euclid(7) as usize];
    let octave = written.octave.saturating_add(number.div_euclid(7) as i8);
    SpelledPitch { spelling: Spelling::new(step, key.accidental_of(step)), octave }
}

/// The note so many semitones higher, or lower, as a key spells it; none where MIDI ends. An octave keeps its
/// spelling.
pub fn by_semitones(written: SpelledPitch, key: Key, semitones: i16) -> Option<SpelledPitch> {
    let pitch = written.pitch()?.checked_add(Interval::new(semitones))?;
    let spelling = if semitones % 12 == 0 {
        written.spelling
    } else {
        Spelling::of_class_in(pitch.class(), i32::from(key.fifths()))
    };
    Some(SpelledPitch::new(pitch, spelling))
}
