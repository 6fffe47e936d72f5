//! A lead sheet: the bars of one part as a tune.

use handspan_core::time::Ticks;
use handspan_core::tune::{ChordAt, MelodyNote, TempoAt, Tune, TuneFault, TuneParts, WrittenOut};
use roxmltree::Document;

use super::line::Lines;
use super::lines;
use super::part::ReadBar;
use super::parts::PartChoice;
use super::report::Report;
use super::{document, header, melody, part, shared, taps, ties};
use crate::diagnostic::{Imported, Severity, Whereabouts};
use crate::error::ReadError;
use crate::musicxml::container;

/// Reads a lead sheet from the bytes of a MusicXML file, compressed or not.
///
/// The melody is, at every onset, the highest note struck in the part that is sung, or else in the
/// first that has notes. Chord symbols, tempi,
/// sections and every sign of playing order are kept, also where they stand over another part; what is not kept is
/// named in the diagnostics.
///
/// # Errors
/// A sentence with line and column where nothing can be made of the file.
pub fn read_tune(bytes: &[u8]) -> Result<Imported<Tune>, ReadError> {
    read_tune_with(bytes, &PartChoice::default())
}

/// Reads a lead sheet as [`read_tune`] does, of the parts that are chosen as melody, bass line and hook.
///
/// Of notes that sound together melody and hook have the highest, the bass line the lowest. Repeats are those of the
/// melody.
///
/// # Errors
/// As [`read_tune`], and where there is no such part.
pub fn read_tune_with(bytes: &[u8], choice: &PartChoice) -> Result<Imported<Tune>, ReadError> {
    let text = container::text_of(bytes)?;
    let document = document::parse(&text)?;
    let mut report = Report::new(Lines::of(&text));
    let mut line_parts = Vec::new();
    for (line, name) in choice.lines() {
        line_parts.push((line, document::part_named(&document, name)?));
    }
    let taken: Vec<_> = line_parts.iter().map(|(_, part)| *part).collect();
    let hint = "any part can be chosen as melody, bass line or hook";
    let part = document::melody_part(&document, choice.melody.as_deref(), &taken, (&mut report, hint))?;
    let mut bars = part::read(part, &mut report)?;
    let mut others = document::parts(&document);
    others.retain(|other| *other != part);
    shared::complete(&mut bars, &others, &mut Report::new(Lines::of(&text)));
    taps::leave_out(&bars, &mut report);
    let strokes = ties::join(&bars, &mut report);
    let written: Vec<_> = bars.iter().map(|b| b.bar.clone()).collect();
    let melody = melody::pick(&strokes, &written, &mut report);
    let mut lines = Vec::new();
    for (line, node) in line_parts {
        lines.extend(lines::read(node, line, &bars, &mut report)?);
    }
    let mut parts = assemble(&document, bars, melody, None, &mut report)?.into_parts();
    parts.lines = lines;
    let tune = Tune::try_new(parts).map_err(ReadError::Tune)?;
    Ok(Imported { value: tune, diagnostics: report.finish() })
}

/// Puts bars and melody together with what stands above them.
pub(super) fn assemble(
    document: &Document<'_>,
    bars: Vec<ReadBar>,
    melody: Vec<MelodyNote>,
    written_out: Option<WrittenOut>,
    report: &mut Report,
) -> Result<Tune, ReadError> {
    let end = bars.last().map_or(Ticks::ZERO, |last| last.bar.end());
    let mut parts = TuneParts {
        title: header::title(document),
        composer: header::composer(document),
        melody,
        written_out,
        ..TuneParts::default()
    };
    for ReadBar { bar, chords, tempi, .. } in bars {
        // What stands after the last note holds from the last moment that there is.
        let within = |at: Ticks| (bar.start + at).clamp(Ticks::ZERO, end - Ticks::new(1));
        for (at, symbol) in chords {
            if bar.start + at >= end {
                let message = "a chord symbol after the last note is not kept";
                report.push(Severity::Loss, Whereabouts::Bar(bar.number.clone()), None, message);
            } else {
                let at = within(at);
                parts.chords.push(ChordAt { at, symbol });
            }
        }
        let tempi = tempi.into_iter().filter(|(at, _)| bar.start + *at < end);
        parts.tempi.extend(tempi.map(|(at, tempo)| TempoAt { at: within(at), tempo }));
        parts.bars.push(bar);
    }
    if parts.melody.is_empty() {
        return Err(ReadError::NoNotes);
    }
    // A file may say a tempo twice at one place, as a mark and as a sound.
    parts.tempi.sort_by_key(|t| t.at);
    parts.tempi.dedup();
    Tune::try_new(parts).map_err(|fault| match fault {
        TuneFault::NoBars => ReadError::NoNotes,
        fault => ReadError::Tune(fault),
    })
}
