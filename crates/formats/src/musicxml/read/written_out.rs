//! Guitar music that is written out: every note of one part, with the strings and fingers that are printed.

use handspan_core::neck::{Fret, Instrument, Node, StringIndex, Touch};
use handspan_core::pitch::Pitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, GivenNote, Harmonic, Mark, MelodyNote, PrintedMarks, Tap, Tune, WrittenOut};
use roxmltree::Node as XmlNode;

use super::line::Lines;
use super::report::{Report, shortened};
use super::score::{finger, pluck};
use super::ties::Stroke;
use super::tune::assemble;
use super::{document, harmonics, neck, part, taps, ties, twins};
use crate::diagnostic::{Imported, Severity, Whereabouts};
use crate::error::ReadError;
use crate::musicxml::container;

/// Reads music for one guitar in which every note is given, from the bytes of a MusicXML file, compressed or not.
///
/// At every onset the highest note of the first voice is the melody and the lowest of the last voice the bass; in a
/// single voice the lowest note of a chord. Printed strings, left-hand digits and right-hand letters are kept as
/// marks. The instrument is the one that the file tells, or a classical guitar.
///
/// # Errors
/// A sentence with line and column where nothing can be made of the file.
pub fn read_written_out(bytes: &[u8]) -> Result<Imported<(Tune, Instrument)>, ReadError> {
    let text = container::text_of(bytes)?;
    let document = document::parse(&text)?;
    let mut report = Report::new(Lines::of(&text));
    let part = document::guitar_part(&document, &mut report)?;
    let mut bars = part::read(part, &mut report)?;
    let instrument = neck::read(&document, part, &bars)?;
    for bar in &mut bars {
        twins::merge(bar, &mut report);
        harmonics::resolve(bar, &instrument, &mut report);
    }
    let strokes = ties::join(&bars, &mut report);
    let written: Vec<Bar> = bars.iter().map(|b| b.bar.clone()).collect();
    let marks = strokes.iter().filter_map(|stroke| marks(stroke, &written, &mut report)).collect();
    let (melody, notes) = lines(&strokes);
    let taps = taps::join(&bars).iter().map(|tap| Tap { at: tap.at, length: tap.length }).collect();
    let written_out = WrittenOut { notes, marks, taps };
    let tune = assemble(&document, bars, melody, Some(written_out), &mut report)?;
    Ok(Imported { value: (tune, instrument), diagnostics: report.finish() })
}

/// A melody may have a note in so many that sounds with another one: double stops are common practice for the fiddle.
const DOUBLE_STOPS: usize = 4;
/// The same under the clef of a guitar.
const BASSES: usize = 40;

/// Whether a file looks like music that is written out rather than a lead sheet.
///
/// Strings or left-hand digits stand beside half of its notes, or no chord symbol stands in it and more than one note in
/// four sounds with another, or one in forty under a clef that sounds an octave lower, or a note is a harmonic. A score
/// of several parts is for a band, unless digits or strings are printed. A file that can't be read is neither.
pub fn is_written_out(bytes: &[u8]) -> bool {
    let Ok(text) = container::text_of(bytes) else { return false };
    let Ok(document) = document::parse(&text) else { return false };
    let mut report = Report::new(Lines::of(&text));
    let Ok(part) = document::guitar_part(&document, &mut report) else { return false };
    let marks = count(part, "string").max(count(part, "fingering"));
    let is_for_a_band =
        document::parts(&document).into_iter().filter(|part| document::has_notes(*part)).count() > 1;
    if is_for_a_band && marks == 0 {
        return false;
    }
    let Ok(bars) = part::read(part, &mut report) else { return false };
    let mut notes: Vec<(Ticks, Ticks, Option<Pitch>)> = Vec::new();
    for bar in &bars {
        let begins = |at: Ticks| bar.bar.start + at;
        notes.extend(bar.notes.iter().map(|n| (begins(n.at), begins(n.at + n.length), n.written.pitch())));
    }
    notes.sort_unstable();
    if marks * 2 >= notes.len().max(1) {
        return true;
    }
    let one_in = if count(part, "clef-octave-change") > 0 { BASSES } else { DOUBLE_STOPS };
    let is_polyphonic = count(part, "harmonic") > 0 || together(&notes) * one_in > notes.len();
    count(part, "harmony") == 0 && is_polyphonic
}

/// How many notes, in order, begin while another one sounds or with another one; what two voices share is one note.
fn together(notes: &[(Ticks, Ticks, Option<Pitch>)]) -> usize {
    let mut sounds_until = Ticks::ZERO;
    let mut before = None;
    let begins_over_another = |(at, end, pitch): &&(Ticks, Ticks, Option<Pitch>)| {
        let shares = before.replace((*at, *pitch)) == Some((*at, *pitch));
        let over = *at < sounds_until && !shares;
        sounds_until = sounds_until.max(*end);
        over
    };
    notes.iter().filter(begins_over_another).count()
}

fn count(part: XmlNode<'_, '_>, name: &str) -> usize {
    part.descendants().filter(|node| node.has_tag_name(name)).count()
}

/// What is printed beside a stroke, if anything; what can't be understood is said.
fn marks(stroke: &Stroke, bars: &[Bar], report: &mut Report) -> Option<PrintedMarks> {
    let technique = &stroke.technique;
    let mut understood = |what: &str, text: &str, known: bool| {
        if !known {
            let message = format!("“{}” is no {what}; the mark is not kept", shortened(text));
            let bar = Whereabouts::Bar(bars[stroke.bar].number.clone());
            report.push(Severity::Loss, bar, Some(stroke.line), message);
        }
    };
    let string = technique.string.as_deref().and_then(|text| {
        let string = text.parse().ok().and_then(StringIndex::from_number);
        understood("string number", text, string.is_some());
        string
    });
    let left = technique.fingering.as_deref().and_then(|text| {
        let mark = left(text);
        understood("left-hand digit", text, mark.is_some());
        mark
    });
    let right = technique.pluck.as_deref().and_then(|text| {
        let letter = pluck(text);
        understood("right-hand letter", text, letter.is_some());
        letter
    });
    let pitch = stroke.written.pitch()?;
    let touch_is_plain = technique.touch == Touch::Plain;
    let node = technique.fret.as_deref().and_then(|fret| Node::at(Fret::try_new(fret.parse().ok()?)?));
    let harmonic = match technique.touch {
        Touch::Natural => Some(Harmonic::Natural(node)),
        touch => Harmonic::of(touch),
    };
    // Some print 0 beside a natural harmonic: its string is open, whoever touches it.
    let left = left.filter(|mark| *mark != Mark::Open || touch_is_plain);
    let printed = PrintedMarks { at: stroke.at, pitch, string, left, right, harmonic };
    (string.is_some() || left.is_some() || right.is_some() || harmonic.is_some()).then_some(printed)
}

fn left(text: &str) -> Option<Mark> {
    if text.trim() == "0" { Some(Mark::Open) } else { finger(text).map(Mark::Stopped) }
}

/// The melody and everything below it.
fn lines(strokes: &[Stroke]) -> (Vec<MelodyNote>, Vec<GivenNote>) {
    let (top, bottom) = outer_voices(strokes);
    let mut melody: Vec<MelodyNote> = Vec::new();
    let mut below = Vec::new();
    for onset in strokes.chunk_by(|a, b| a.at == b.at) {
        let highest = onset
            .iter()
            .filter(|s| s.voice == top)
            .max_by_key(|s| s.written.pitch())
            .filter(|s| melody.last().is_none_or(|before| before.end() <= s.at));
        let is_melody = |stroke: &Stroke| highest.is_some_and(|top| std::ptr::eq(top, stroke));
        melody.extend(highest.map(|s| MelodyNote {
            at: s.at,
            length: s.length,
            written: s.written,
            tied_in: s.tied_in,
            tied_out: s.tied_out,
        }));
        let rest = || onset.iter().filter(|stroke| !is_melody(stroke));
        let lowest = rest().filter(|s| s.voice == bottom).min_by_key(|s| s.written.pitch());
        below.extend(rest().map(|s| GivenNote {
            at: s.at,
            length: s.length,
            written: s.written,
            is_bass: lowest.is_some_and(|bass| std::ptr::eq(bass, s)),
            tied_in: s.tied_in,
            tied_out: s.tied_out,
        }));
    }
    (melody, below)
}

/// The names of the first and of the last voice, by their numbers.
fn outer_voices(strokes: &[Stroke]) -> (&str, &str) {
    let number = |voice: &str| voice.parse::<u32>().unwrap_or(u32::MAX);
    let voices = || strokes.iter().map(|s| s.voice.as_str());
    let first = voices().min_by_key(|voice| (number(voice), *voice));
    let last = voices().max_by_key(|voice| (number(voice), *voice));
    (first.unwrap_or_default(), last.unwrap_or_default())
}
