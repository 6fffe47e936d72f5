//! Harmonics: a note is kept at what it sounds, whichever of its pitches stands on paper.
//!
//! The standard lets a harmonic be written as the stopped or open string (`base-pitch`), as the point that is touched
//! (`touching-pitch`) or as what sounds (`sounding-pitch`), an artificial one also as a chord of several of them.

use handspan_core::neck::{Fret, Instrument, Node, StringIndex, Touch};
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::spelling::{SpelledPitch, Spelling};

use super::note::{ReadNote, WrittenAs};
use super::part::ReadBar;
use super::report::Report;
use crate::diagnostic::{Severity, Whereabouts};

/// Turns the harmonics of a bar into notes at what they sound; one that can't be is an ordinary note from here on.
pub(super) fn resolve(bar: &mut ReadBar, instrument: &Instrument, report: &mut Report) {
    join_artificial(&mut bar.notes);
    let fifths = i32::from(bar.bar.key.fifths());
    for note in &mut bar.notes {
        let found = match note.technique.touch {
            Touch::Plain => continue,
            Touch::Natural => natural(note, instrument),
            Touch::Artificial => artificial(note, instrument).map(|pitch| (pitch, None)),
        };
        let Some((pitch, node)) = found else {
            note.technique.touch = Touch::Plain;
            let message = "no harmonic sounds there; an ordinary note is kept";
            report.push(Severity::Fault, Whereabouts::Bar(bar.bar.number.clone()), Some(note.line), message);
            continue;
        };
        note.written = spelled(note.written, pitch, fifths);
        if let Some(node) = node {
            note.technique.fret = Some(node.fret().to_string());
        }
    }
}

/// A chord that says several pitches of one artificial harmonic becomes one note, written as what sounds where it says
/// so, else as what is stopped.
fn join_artificial(notes: &mut Vec<ReadNote>) {
    let mut joined: Vec<ReadNote> = Vec::new();
    for note in notes.drain(..) {
        let is_artificial = note.technique.touch == Touch::Artificial && note.technique.written_as.is_some();
        let same = |other: &&mut ReadNote| {
            let other_as = other.technique.written_as;
            let one_thing = other.technique.touch == Touch::Artificial
                && other_as.is_some()
                && other_as != note.technique.written_as;
            one_thing && (other.at, &other.voice) == (note.at, &note.voice)
        };
        match joined.iter_mut().find(same).filter(|_| is_artificial) {
            Some(first) => {
                let rank = |note: &ReadNote| note.technique.written_as.map(|written| written as u8);
                let (kept, other) =
                    if rank(&note) < rank(first) { (&note, &*first) } else { (&*first, &note) };
                let technique = kept.technique.clone().with(other.technique.clone());
                let touched_above = match (kept.technique.written_as, other.technique.written_as) {
                    (Some(WrittenAs::Base), Some(WrittenAs::Touching)) => {
                        kept.written.pitch().zip(other.written.pitch()).map(|(base, touched)| touched - base)
                    }
                    _ => None,
                };
                *first = ReadNote { technique, ..kept.clone() };
                if let Some(above) = touched_above {
                    first.technique.touched_above = Some(above);
                }
            }
            None => joined.push(note),
        }
    }
    *notes = joined;
}

/// What a natural harmonic sounds, and its node where one is printed or follows.
fn natural(note: &ReadNote, instrument: &Instrument) -> Option<(Pitch, Option<Node>)> {
    let written = note.written.pitch()?;
    let string = string(note).filter(|string| string.index() < instrument.string_count());
    let fret = fret(note);
    let node = match fret {
        Some(fret) => Some(Node::at(fret)?),
        None => None,
    };
    let at = |open: Pitch, node: Node| Some((open.checked_add(node.above_open())?, Some(node)));
    let touched = || {
        let strings = instrument.strings().filter(|only| string.is_none_or(|string| string == *only));
        let nodes = strings.filter_map(|string| {
            let there = Node::at(instrument.fret_of(written, string)?)?;
            node.is_none_or(|node| node == there).then_some((instrument.open_pitch(string), there))
        });
        // Where several strings have a node there, the strongest partial is meant.
        let strongest = nodes.min_by_key(|(_, node)| node.above_open().semitones());
        strongest.and_then(|(open, node)| at(open, node))
    };
    let sounding = || {
        let mut nodes = instrument.nodes(written).filter(|(on, there)| {
            string.is_none_or(|string| string == *on) && node.is_none_or(|node| node == *there)
        });
        nodes.next().map(|_| (written, node))
    };
    match note.technique.written_as {
        Some(WrittenAs::Sounding) => sounding(),
        Some(WrittenAs::Touching) => touched(),
        Some(WrittenAs::Base) => at(written, node.or_else(|| Node::at(Fret::new(12)))?),
        None => sounding().or_else(touched),
    }
}

/// What an artificial harmonic sounds.
fn artificial(note: &ReadNote, instrument: &Instrument) -> Option<Pitch> {
    let written = note.written.pitch()?;
    let stopped =
        || instrument.open_pitch(string(note)?).checked_add(Interval::new(i16::from(fret(note)?.number())));
    let is_base = match note.technique.written_as {
        Some(written_as) => written_as == WrittenAs::Base,
        None => stopped() == Some(written),
    };
    // Touched above the stopped fret, a string sounds what it would as an open one.
    let above = match note.technique.touched_above {
        Some(above) => Node::at(Fret::try_new(i32::from(above.semitones()))?)?.above_open(),
        None => Touch::OCTAVE,
    };
    let sounds = if is_base { written.checked_add(above)? } else { written };
    instrument.stopped_for(sounds).next().map(|_| sounds)
}

fn string(note: &ReadNote) -> Option<StringIndex> {
    note.technique.string.as_deref()?.parse().ok().and_then(StringIndex::from_number)
}

fn fret(note: &ReadNote) -> Option<Fret> {
    note.technique.fret.as_deref()?.parse().ok().and_then(Fret::try_new)
}

/// A pitch spelled as what is written, where that is octaves away, else by the key.
fn spelled(written: SpelledPitch, pitch: Pitch, fifths: i32) -> SpelledPitch {
    let same = written.pitch().is_some_and(|before| before.class() == pitch.class());
    let spelling = if same { written.spelling } else { Spelling::of_class_in(pitch.class(), fifths) };
    SpelledPitch::new(pitch, spelling)
}
