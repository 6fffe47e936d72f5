//! Other parts of a score as bass line and hook: the lowest notes of one, the highest of the other.

use std::collections::BTreeMap;

use handspan_core::tune::{Bar, Line, LineNote, MelodyNote};
use roxmltree::Node;

use super::melody::{Outer, outer};
use super::part::ReadBar;
use super::report::Report;
use super::{part, ties};
use crate::diagnostic::{Severity, Whereabouts};
use crate::error::ReadError;

/// The notes of a line in the bars of the melody.
pub(super) fn read(
    node: Node<'_, '_>,
    line: Line,
    melody: &[ReadBar],
    report: &mut Report,
) -> Result<Vec<LineNote>, ReadError> {
    let mut bars = part::read(node, report)?;
    for (index, bar) in bars.iter_mut().enumerate() {
        let Some(beside) = melody.get(index) else { continue };
        let length = beside.bar.length;
        let lost = bar.notes.iter().filter(|note| note.at + note.length > length).count();
        if lost > 0 {
            let message =
                format!("{lost} of the {}'s notes go beyond the melody's bar; not kept", line.name());
            report.push(Severity::Loss, Whereabouts::Bar(beside.bar.number.clone()), None, message);
            bar.notes.retain(|note| note.at + note.length <= length);
        }
        // Repeats and jumps are those of the melody.
        bar.bar = beside.bar.clone();
    }
    let beyond = bars.iter().skip(melody.len()).filter(|bar| !bar.notes.is_empty()).count();
    if beyond > 0 {
        let message =
            format!("the {} goes on after the melody's last bar (bars: {beyond}); not kept", line.name());
        report.push(Severity::Loss, Whereabouts::File, None, message);
    }
    bars.truncate(melody.len());
    let written: Vec<Bar> = bars.iter().map(|bar| bar.bar.clone()).collect();
    let strokes = ties::join(&bars, report);
    let outer = match line {
        Line::Bass => outer(&strokes, |one, other| one < other),
        Line::Hook => outer(&strokes, |one, other| one > other),
    };
    tell(&outer, line, &written, report);
    let note = |n: MelodyNote| LineNote { at: n.at, length: n.length, written: n.written, line };
    Ok(outer.notes.into_iter().map(note).collect())
}

/// Says bar by bar what of a part is not in its line.
fn tell(outer: &Outer, line: Line, bars: &[Bar], report: &mut Report) {
    let which = match line {
        Line::Bass => "lowest",
        Line::Hook => "highest",
    };
    let mut say = |bar: &usize, of: u32, message: String| {
        report.push(Severity::Loss, Whereabouts::Bar(bars[*bar].number.clone()), Some(of), message);
    };
    for (bar, (count, of)) in &outer.dropped {
        let message = format!(
            "of the {}'s part only the {which} notes are kept, without {count} that sound with them",
            line.name()
        );
        say(bar, *of, message);
    }
    for (bar, of) in &outer.cut {
        let message = format!("a note of the {} is cut where its next one begins", line.name());
        say(bar, *of, message);
    }
    let mut tied: BTreeMap<usize, u32> = BTreeMap::new();
    for note in outer.notes.iter().filter(|note| note.tied_in) {
        let bar = bars.partition_point(|bar| bar.start <= note.at).saturating_sub(1);
        *tied.entry(bar).or_default() += 1;
    }
    for bar in tied.keys() {
        let message =
            format!("a note of the {} that is tied over a repeat or a jump is struck again", line.name());
        report.push(Severity::Loss, Whereabouts::Bar(bars[*bar].number.clone()), None, message);
    }
}
