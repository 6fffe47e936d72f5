//! Finds the melody: at every onset the highest note that is struck, over all voices and staves.

use std::collections::BTreeMap;

use handspan_core::pitch::Pitch;
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
    let Outer { notes, dropped, cut } = outer(strokes, |one, other| one > other);
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
    notes
}

/// The outer notes of a part, and where others are not kept or cut: by bar, with the line of the first of them.
pub(super) struct Outer {
    pub(super) notes: Vec<MelodyNote>,
    pub(super) dropped: BTreeMap<usize, (usize, u32)>,
    pub(super) cut: BTreeMap<usize, u32>,
}

/// At every onset the outermost note that is struck; `beats` says which of two pitches lies farther out.
///
/// A note that begins while one farther out sounds is not kept. One that lies farther out itself, or as far, cuts the
/// one before.
pub(super) fn outer(strokes: &[Stroke], beats: fn(Option<Pitch>, Option<Pitch>) -> bool) -> Outer {
    let mut outer = Outer { notes: Vec::new(), dropped: BTreeMap::new(), cut: BTreeMap::new() };
    for onset in strokes.chunk_by(|a, b| a.at == b.at) {
        let top = outermost(onset, beats);
        let mut not_kept: Vec<&Stroke> = onset.iter().filter(|s| !std::ptr::eq(*s, top)).collect();
        let sounding = outer.notes.last_mut().filter(|before| before.end() > top.at);
        match sounding {
            Some(before) if beats(before.written.pitch(), top.written.pitch()) => not_kept.push(top),
            sounding => {
                if let Some(before) = sounding {
                    before.length = top.at - before.at;
                    before.tied_out = false;
                    outer.cut.entry(top.bar).or_insert(top.line);
                }
                outer.notes.push(melody_note(top));
            }
        }
        for stroke in not_kept {
            outer.dropped.entry(stroke.bar).or_insert((0, stroke.line)).0 += 1;
        }
    }
    outer.notes.retain(|note| note.length > Ticks::ZERO);
    outer
}

/// The outermost of the notes that begin together; of equal ones the first written.
fn outermost(onset: &[Stroke], beats: fn(Option<Pitch>, Option<Pitch>) -> bool) -> &Stroke {
    let (first, others) = onset.split_first().expect("chunks are not empty");
    others.iter().fold(
        first,
        |best, stroke| {
            if beats(stroke.written.pitch(), best.written.pitch()) { stroke } else { best }
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
