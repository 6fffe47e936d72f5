//! What stands above and before the staff: chord symbols, keys and tempi.

use super::MendFault;
use super::bars::run_end;
use crate::harmony::{ChordSymbol, Key};
use crate::spelling::{SpelledPitch, Spelling};
use crate::time::{Tempo, Ticks};
use crate::tune::note::{ChordAt, TempoAt};
use crate::tune::tune::{Tune, TuneParts};

pub(super) fn set_chord(
    tune: &Tune,
    parts: &mut TuneParts,
    at: Ticks,
    symbol: Option<ChordSymbol>,
) -> Result<(), MendFault> {
    if at < Ticks::ZERO || at >= tune.end() {
        return Err(MendFault::AfterEnd);
    }
    parts.chords.retain(|chord| chord.at != at);
    parts.chords.extend(symbol.map(|symbol| ChordAt { at, symbol }));
    Ok(())
}

pub(super) fn set_key(parts: &mut TuneParts, from: usize, key: Key) -> Result<(), MendFault> {
    let first = parts.bars.get(from).ok_or(MendFault::NoBar)?;
    let start = first.start;
    let end = run_end(&parts.bars, from, |bar| bar.key);
    for bar in &mut parts.bars[from..end] {
        bar.key = key;
    }
    let after = parts.bars.get(end).map(|bar| bar.start);
    let there = |at: Ticks| at >= start && after.is_none_or(|after| at < after);
    let melody = parts.melody.iter_mut().map(|note| (note.at, &mut note.written));
    let lines = parts.lines.iter_mut().map(|note| (note.at, &mut note.written));
    let below = parts.written_out.iter_mut().flat_map(|written_out| &mut written_out.notes);
    let below = below.map(|note| (note.at, &mut note.written));
    for (_, written) in melody.chain(lines).chain(below).filter(|(at, _)| there(*at)) {
        if let Some(pitch) = written.pitch().filter(|_| !reads(key, written.spelling)) {
            let spelling = Spelling::of_class_in(pitch.class(), i32::from(key.fifths()));
            *written = SpelledPitch::new(pitch, spelling);
        }
    }
    Ok(())
}

/// Whether a key reads a spelling without strain: its scale lies on the line of fifths from one before the key to five
/// after it, and five to either side are its usual accidentals, the raised notes of minor keys among them.
fn reads(key: Key, spelling: Spelling) -> bool {
    let from_middle = spelling.fifths() - (i32::from(key.fifths()) + 2);
    from_middle.abs() <= 8
}

pub(super) fn set_tempo(parts: &mut TuneParts, bar: usize, tempo: Option<Tempo>) -> Result<(), MendFault> {
    let at = parts.bars.get(bar).ok_or(MendFault::NoBar)?.start;
    parts.tempi.retain(|mark| mark.at != at);
    parts.tempi.extend(tempo.map(|tempo| TempoAt { at, tempo }));
    Ok(())
}
