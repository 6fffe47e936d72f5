//! Finds the melody: at every onset the highest note that is struck, over all voices and staves.

use std::collections::BTreeMap;

use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, MelodyNote};

use super::report::Report;
use super::ties::Stroke;
use crate::diagnostic::{Severity, Whereabouts};

/// The melody of one voice; what is not melody is named bar by bar.
///
/// A lower note that begins while a higher one sounds is accompaniment. A higher note that begins while a lower one
/// sounds takes the melody over, and the lower one is cut there.
pub(super) fn pick(strokes: &[Stroke], bars: &[Bar], report: &mut Report) -> Vec<MelodyNote> {
    let mut melody: Vec<MelodyNote> = Vec::new();
    let mut dropped: BTreeMap<usize, (usize, u32)> = BTreeMap::new();
    let mut cut: BTreeMap<usize, u32> = BTreeMap::new();
    for onset in strokes.chunk_by(|a, b| a.at == b.at) {
        let top = highest(onset);
        let mut not_kept: Vec<&Stroke> = onset.iter().filter(|s| !std::ptr::eq(*s, top)).collect();
        let sounding = melody.last_mut().filter(|before| before.end() > top.at);
        match sounding {
            Some(before) if before.written.pitch() > top.written.pitch() => not_kept.push(top),
            sounding => {
                if let Some(before) = sounding {
                    before.length = top.at - before.at;
                    before.tied_out = false;
                    cut.entry(top.bar).or_insert(top.line);
                }
                melody.push(melody_note(top));
            }
        }
        for stroke in not_kept {
            dropped.entry(stroke.bar).or_insert((0, stroke.line)).0 += 1;
        }
    }
    for (bar, (count, line)) in dropped {
        let message = match count {
            1 => "a note below the melody is not kept".to_owned(),
            _ => format!("{count} notes below the melody are not kept"),
        };
        report.push(Severity::Loss, Whereabouts::Bar(bars[bar].number.clone()), Some(line), message);
    }
    for (bar, line) in cut {
        let message = "a melody note is cut where a higher note of another voice begins";
        report.push(Severity::Loss, Whereabouts::Bar(bars[bar].number.clone()), Some(line), message);
    }
    melody.retain(|note| note.length > Ticks::ZERO);
    melody
}

/// The highest of the notes that begin together; of equal ones the first written.
fn highest(onset: &[Stroke]) -> &Stroke {
    let (first, others) = onset.split_first().expect("chunks are not empty");
    others.iter().fold(
        first,
        |best, stroke| {
            if stroke.written.pitch() > best.written.pitch() { stroke } else { best }
        },
    )
}

const fn melody_note(stroke: &Stroke) -> MelodyNote {
    MelodyNote {
        at: stroke.at,
        length: stroke.length,
        written: stroke.written,
        tied_in: stroke.tied_in,
        tied_out: stroke.tied_out,
    }
}
