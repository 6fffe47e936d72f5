//! An arrangement for guitar: every note with its place on the neck and both hands' fingers.

use std::collections::BTreeMap;
use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::demand::Part;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::neck::{Fret, Instrument, Place, StringIndex};
use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, MelodyNote};
use roxmltree::Node;

use super::line::Lines;
use super::part::ReadBar;
use super::report::{Report, shortened};
use super::ties::{self, Stroke};
use super::tune::assemble;
use super::{document, harmonics, neck, part, taps, twins};
use crate::diagnostic::{Imported, Severity, Whereabouts};
use crate::error::ReadError;
use crate::musicxml::container;

/// Reads an arrangement for one guitar back from the bytes of a MusicXML file, compressed or not.
///
/// A note that stands in the staff and in the tablature is one note with the marks of both. The highest note of the
/// first voice is the melody, the lowest of the second voice the bass; the rest is inner voices.
///
/// # Errors
/// A sentence where nothing can be made of the file, or where no note carries a string and a fret.
pub fn read_score(bytes: &[u8]) -> Result<Imported<Score>, ReadError> {
    let text = container::text_of(bytes)?;
    let document = document::parse(&text)?;
    let mut report = Report::new(Lines::of(&text));
    let parts = document::parts(&document);
    let part = guitar_part(&parts)?;
    let mut bars = part::read(part, &mut report)?;
    add_other_staff(&parts, part, &mut bars, &mut report)?;
    let instrument = neck::read(&document, part, &bars)?;
    for bar in &mut bars {
        twins::merge(bar, &mut report);
        harmonics::resolve(bar, &instrument, &mut report);
    }
    let strokes = ties::join(&bars, &mut report);
    let written: Vec<Bar> = bars.iter().map(|b| b.bar.clone()).collect();
    let mut notes = on_strings(strokes, &written, &mut report);
    notes.retain(|note| on_the_neck(note, &instrument, &written, &mut report));
    let melody = melody_of(&notes);
    let taps = taps::join(&bars);
    let tune = assemble(&document, bars, melody, None, &mut report)?;
    Ok(Imported {
        value: Score { tune: Arc::new(tune), instrument, notes, taps },
        diagnostics: report.finish(),
    })
}

/// The first part in which a note carries a string.
fn guitar_part<'a, 'i>(parts: &[Node<'a, 'i>]) -> Result<Node<'a, 'i>, ReadError> {
    let holds = |part: &Node<'a, 'i>, name| part.descendants().any(|node| node.has_tag_name(name));
    if !parts.iter().any(|part| holds(part, "pitch")) {
        return Err(ReadError::NoNotes);
    }
    let guitar = parts.iter().copied().find(|part| holds(part, "string"));
    guitar.ok_or(ReadError::NoPlaces)
}

/// Of two parts with as many bars, one is the staff and the other its tablature.
fn add_other_staff(
    parts: &[Node<'_, '_>],
    guitar: Node<'_, '_>,
    bars: &mut [ReadBar],
    report: &mut Report,
) -> Result<(), ReadError> {
    let [first, second] = parts else { return Ok(()) };
    let other = part::read(if *first == guitar { *second } else { *first }, report)?;
    if other.len() != bars.len() {
        return Ok(());
    }
    for (bar, other) in bars.iter_mut().zip(other) {
        bar.notes.extend(other.notes);
        if bar.chords.is_empty() {
            bar.chords = other.chords;
        }
    }
    Ok(())
}

/// The strokes as notes on the neck, by time, then from the highest string to the lowest.
fn on_strings(mut strokes: Vec<Stroke>, bars: &[Bar], report: &mut Report) -> Vec<ScoreNote> {
    strokes.retain(|stroke| {
        let exists = place(stroke).is_some();
        if !exists {
            let message = format!(
                "the note {} names no string and fret that exist (string {}, fret {}); it is not kept",
                stroke.written,
                named(stroke.technique.string.as_deref()),
                named(stroke.technique.fret.as_deref()),
            );
            let bar = Whereabouts::Bar(bars[stroke.bar].number.clone());
            report.push(Severity::Fault, bar, Some(stroke.line), message);
        }
        exists
    });
    let parts = parts(&strokes);
    let mut notes: Vec<ScoreNote> =
        strokes.iter().zip(parts).filter_map(|(stroke, part)| note(stroke, part)).collect();
    notes.sort_by_key(|note| (note.at, note.place.string));
    notes
}

fn named(text: Option<&str>) -> String {
    text.map_or_else(|| "none".to_owned(), shortened)
}

fn place(stroke: &Stroke) -> Option<Place> {
    let string = stroke.technique.string.as_ref()?.parse().ok()?;
    let fret = stroke.technique.fret.as_ref()?.parse().ok()?;
    Some(Place { string: StringIndex::from_number(string)?, fret: Fret::try_new(fret)? })
}

fn note(stroke: &Stroke, part: Part) -> Option<ScoreNote> {
    let technique = &stroke.technique;
    Some(ScoreNote {
        at: stroke.at,
        length: stroke.length,
        written: stroke.written,
        place: place(stroke)?,
        touch: technique.touch,
        finger: technique.fingering.as_deref().and_then(finger),
        pluck: technique.pluck.as_deref().and_then(pluck),
        part,
        tied_in: stroke.tied_in,
        tied_out: stroke.tied_out,
    })
}

/// A left-hand finger; `0` is the open string, which none holds.
pub(super) fn finger(mark: &str) -> Option<Finger> {
    match mark {
        "T" | "t" => Some(Finger::Thumb),
        digit => digit.parse().ok().and_then(Finger::from_number).filter(|f| *f != Finger::Thumb),
    }
}

pub(super) fn pluck(mark: &str) -> Option<RightFinger> {
    let mut letters = mark.chars();
    letters.next().filter(|_| letters.as_str().is_empty()).and_then(RightFinger::from_letter)
}

/// The part of every stroke: of those that begin together the highest of the first voice is the melody, the lowest
/// of the second the bass.
fn parts(strokes: &[Stroke]) -> Vec<Part> {
    let mut melody: BTreeMap<Ticks, usize> = BTreeMap::new();
    let mut bass: BTreeMap<Ticks, usize> = BTreeMap::new();
    let pitch = |index: usize| strokes[index].written.pitch();
    for (index, stroke) in strokes.iter().enumerate() {
        match stroke.voice.as_str() {
            "1" => {
                let best = melody.entry(stroke.at).or_insert(index);
                if pitch(index) > pitch(*best) {
                    *best = index;
                }
            }
            "2" => {
                let best = bass.entry(stroke.at).or_insert(index);
                if pitch(index) < pitch(*best) {
                    *best = index;
                }
            }
            _ => {}
        }
    }
    (0..strokes.len())
        .map(|index| {
            let at = strokes[index].at;
            if melody.get(&at) == Some(&index) {
                Part::Melody
            } else if bass.get(&at) == Some(&index) {
                Part::Bass
            } else {
                Part::Inner
            }
        })
        .collect()
}

/// Whether the instrument has the string and the fret; a fault where it has not.
fn on_the_neck(note: &ScoreNote, instrument: &Instrument, bars: &[Bar], report: &mut Report) -> bool {
    let exists = instrument.sounding(note.place).is_some();
    if !exists {
        let after = bars.partition_point(|bar| bar.start <= note.at);
        let number = bars[after.saturating_sub(1)].number.clone();
        let message = format!(
            "string {} fret {} does not exist on this neck; the note is not kept",
            note.place.string, note.place.fret
        );
        report.push(Severity::Fault, Whereabouts::Bar(number), None, message);
    }
    exists
}

/// The melody's notes as a melody; one that runs into the next ends there.
fn melody_of(notes: &[ScoreNote]) -> Vec<MelodyNote> {
    let mut melody: Vec<MelodyNote> = Vec::new();
    for note in notes.iter().filter(|note| note.part == Part::Melody) {
        if let Some(last) = melody.last_mut().filter(|last| last.end() > note.at) {
            last.length = note.at - last.at;
        }
        melody.push(MelodyNote {
            at: note.at,
            length: note.length,
            written: note.written,
            tied_in: note.tied_in,
            tied_out: note.tied_out,
        });
    }
    melody
}
