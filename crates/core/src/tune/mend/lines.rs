//! Bass line and hooks: notes written into a line, taken away, and marked among what is written as melody.

use std::ops::Range;

use super::{MendFault, melody};
use crate::spelling::SpelledPitch;
use crate::time::Ticks;
use crate::tune::line::{Line, LineNote};
use crate::tune::note::MelodyNote;
use crate::tune::tune::{Tune, TuneParts};

pub(super) fn write(
    tune: &Tune,
    parts: &mut TuneParts,
    line: Line,
    time: &Range<Ticks>,
    written: SpelledPitch,
) -> Result<(), MendFault> {
    written.pitch().ok_or(MendFault::NoPitch)?;
    silence(tune, parts, line, time)?;
    parts.lines.push(LineNote { at: time.start, length: time.end - time.start, written, line });
    Ok(())
}

pub(super) fn silence(
    tune: &Tune,
    parts: &mut TuneParts,
    line: Line,
    passage: &Range<Ticks>,
) -> Result<(), MendFault> {
    melody::lies_in(tune, passage)?;
    parts.lines.retain(|note| note.line != line || !passage.contains(&note.at));
    let into =
        |note: &&mut LineNote| note.line == line && note.at < passage.start && note.end() > passage.start;
    for note in parts.lines.iter_mut().filter(into) {
        note.length = passage.start - note.at;
    }
    Ok(())
}

/// The melody notes that begin in a passage become notes of a line.
pub(super) fn mark(
    tune: &Tune,
    parts: &mut TuneParts,
    line: Line,
    passage: &Range<Ticks>,
) -> Result<(), MendFault> {
    melody::lies_in(tune, passage)?;
    let (marked, kept): (Vec<MelodyNote>, _) =
        parts.melody.iter().partition(|note| passage.contains(&note.at));
    let last = marked.last().ok_or_else(|| MendFault::NoMelody(tune.bar_beat(passage.start)))?;
    silence(tune, parts, line, &(passage.start..passage.end.max(last.end())))?;
    parts.melody = kept;
    let note = |n: MelodyNote| LineNote { at: n.at, length: n.length, written: n.written, line };
    parts.lines.extend(marked.into_iter().map(note));
    Ok(())
}

/// When every note sounds: of the melody, of what is written out below it, and of lines.
pub(super) fn spans(tune: &Tune) -> impl Iterator<Item = Range<Ticks>> {
    let melody = tune.melody().iter().map(|note| note.at..note.end());
    let below = tune.below_the_melody().iter().map(|note| note.at..note.end());
    melody.chain(below).chain(tune.lines().iter().map(|note| note.at..note.end()))
}
