//! Notes and rests with everything they carry.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::neck::Touch;
use handspan_core::spelling::Step;
use handspan_core::time::Ticks;
use handspan_core::tune::Bar;

use super::events::{Bracket, Content, Event};
use super::value::Value;
use super::voices::Chord;
use super::xml::Xml;

/// One of the two staves.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Staff {
    Notes,
    Tablature,
}

impl Staff {
    pub(super) const fn number(self) -> u8 {
        match self {
            Self::Notes => 1,
            Self::Tablature => 2,
        }
    }
}

/// What all notes of a voice in a bar share.
pub(super) struct NoteContext<'a> {
    pub(super) score: &'a Score,
    pub(super) staff: Staff,
    pub(super) melody: bool,
    pub(super) voice: String,
    pub(super) divisions: i64,
    /// The notes that carry an accidental, by their index in the score.
    pub(super) accidentals: &'a BTreeSet<usize>,
    /// Where a note that is tied over the bar line may also be struck, because playing comes from elsewhere too.
    pub(super) struck_again: Option<Ticks>,
}

impl NoteContext<'_> {
    pub(super) fn rest(&self, xml: &mut Xml, event: &Event) {
        xml.element("note", &[], |xml| {
            if event.content == Content::BarRest {
                xml.empty("rest", &[("measure", "yes")]);
            } else {
                xml.empty("rest", &[]);
            }
            self.length(xml, event);
            xml.text("voice", &self.voice);
            value(xml, event.value);
            time_modification(xml, event.value);
            xml.text("staff", self.staff.number());
            if event.bracket.is_some() {
                xml.element("notations", &[], |xml| bracket(xml, event));
            }
        });
    }

    pub(super) fn chord(&self, xml: &mut Xml, chord: &Chord, event: &Event) {
        let Content::Chord { first, last, .. } = event.content else {
            return;
        };
        let tied = Tied { stop: !first || chord.tied_in, start: !last || chord.tied_out };
        let marked = first || self.struck_again == Some(event.at);
        for (place, index) in chord.notes.iter().enumerate() {
            let note = &self.score.notes[*index];
            xml.element("note", &[], |xml| {
                if place > 0 {
                    xml.empty("chord", &[]);
                }
                pitch(xml, note);
                self.length(xml, event);
                tied.write(xml, "tie");
                xml.text("voice", &self.voice);
                value(xml, event.value);
                if self.staff == Staff::Notes && first && self.accidentals.contains(index) {
                    xml.text("accidental", accidental(note.written.spelling.alter));
                }
                time_modification(xml, event.value);
                if self.staff == Staff::Notes {
                    xml.text("stem", if self.melody { "up" } else { "down" });
                    if note.touch.is_harmonic() {
                        xml.text("notehead", "diamond");
                    }
                }
                xml.text("staff", self.staff.number());
                if self.staff == Staff::Notes && place == 0 {
                    for (level, word) in event.beams.iter().enumerate() {
                        xml.text_with("beam", &[("number", &(level + 1).to_string())], word);
                    }
                }
                self.notations(xml, note, tied, marked, (place == 0).then_some(event));
            });
        }
    }

    fn length(&self, xml: &mut Xml, event: &Event) {
        xml.text("duration", event.length.count() * self.divisions / Ticks::PER_QUARTER);
    }

    fn notations(&self, xml: &mut Xml, note: &ScoreNote, tied: Tied, marked: bool, event: Option<&Event>) {
        let bracketed = event.filter(|event| event.bracket.is_some());
        let technical = self.staff == Staff::Tablature || (marked && has_fingers(note));
        if !tied.start && !tied.stop && bracketed.is_none() && !technical {
            return;
        }
        xml.element("notations", &[], |xml| {
            tied.write(xml, "tied");
            if let Some(event) = bracketed {
                bracket(xml, event);
            }
            if technical {
                xml.element("technical", &[], |xml| match self.staff {
                    Staff::Notes => fingers(xml, note),
                    Staff::Tablature => {
                        xml.text("string", note.place.string.number());
                        xml.text("fret", note.place.fret.number());
                        harmonic(xml, note.touch);
                    }
                });
            }
        });
    }
}

/// On which sides a written note is tied.
#[derive(Clone, Copy)]
struct Tied {
    stop: bool,
    start: bool,
}

impl Tied {
    fn write(self, xml: &mut Xml, name: &str) {
        if self.stop {
            xml.empty(name, &[("type", "stop")]);
        }
        if self.start {
            xml.empty(name, &[("type", "start")]);
        }
    }
}

fn has_fingers(note: &ScoreNote) -> bool {
    note.finger.is_some() || note.place.fret.is_open() || note.pluck.is_some() || note.touch.is_harmonic()
}

fn fingers(xml: &mut Xml, note: &ScoreNote) {
    match note.finger {
        Some(finger) => xml.text("fingering", finger),
        None if note.place.fret.is_open() => xml.text("fingering", 0),
        None => {}
    }
    if let Some(pluck) = note.pluck {
        xml.text("pluck", pluck);
    }
    harmonic(xml, note.touch);
}

/// A harmonic stands at what it sounds.
fn harmonic(xml: &mut Xml, touch: Touch) {
    let kind = match touch {
        Touch::Plain => return,
        Touch::Natural => "natural",
        Touch::Artificial => "artificial",
    };
    xml.element("harmonic", &[], |xml| {
        xml.empty(kind, &[]);
        xml.empty("sounding-pitch", &[]);
    });
}

fn pitch(xml: &mut Xml, note: &ScoreNote) {
    let written = note.written;
    xml.element("pitch", &[], |xml| {
        xml.text("step", written.spelling.step.letter());
        if written.spelling.alter != 0 {
            xml.text("alter", written.spelling.alter);
        }
        xml.text("octave", written.octave);
    });
}

pub(super) fn value(xml: &mut Xml, value: Option<Value>) {
    let Some(value) = value else { return };
    xml.text("type", value.name);
    for _ in 0..value.dots {
        xml.empty("dot", &[]);
    }
}

pub(super) fn time_modification(xml: &mut Xml, value: Option<Value>) {
    let Some(tuplet) = value.and_then(|value| value.tuplet) else {
        return;
    };
    xml.element("time-modification", &[], |xml| {
        xml.text("actual-notes", tuplet.actual);
        xml.text("normal-notes", tuplet.normal);
    });
}

fn bracket(xml: &mut Xml, event: &Event) {
    match event.bracket {
        Some(Bracket::Start) => xml.empty("tuplet", &[("type", "start"), ("bracket", "yes")]),
        Some(Bracket::Stop) => xml.empty("tuplet", &[("type", "stop")]),
        None => {}
    }
}

const fn accidental(alter: i8) -> &'static str {
    match alter {
        ..=-3 => "triple-flat",
        -2 => "flat-flat",
        -1 => "flat",
        0 => "natural",
        1 => "sharp",
        2 => "double-sharp",
        3.. => "triple-sharp",
    }
}

/// The notes of a bar that carry an accidental: those that differ from the key and from what stood before them in the
/// bar on the same line.
pub(super) fn accidentals(score: &Score, bar: &Bar, chords: &[&Chord]) -> BTreeSet<usize> {
    let mut struck: Vec<usize> =
        chords.iter().filter(|chord| !chord.tied_in).flat_map(|chord| chord.notes.iter().copied()).collect();
    struck.sort_by_key(|index| (score.notes[*index].at, *index));
    let mut in_force: BTreeMap<(Step, i8), i8> = BTreeMap::new();
    let mut marked = BTreeSet::new();
    for index in struck {
        let written = score.notes[index].written;
        let alter = written.spelling.alter;
        let line = (written.spelling.step, written.octave);
        let before =
            in_force.insert(line, alter).unwrap_or_else(|| bar.key.accidental_of(written.spelling.step));
        if before != alter {
            marked.insert(index);
        }
    }
    marked
}
