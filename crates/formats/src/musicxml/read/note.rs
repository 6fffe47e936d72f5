//! One `note` element: what it is, how it sounds, where it is played.

use handspan_core::neck::Touch;
use handspan_core::pitch::Interval;
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use handspan_core::time::Ticks;
use roxmltree::Node;

use super::attributes::{Attributes, staff_number};
use super::duration::Decimal;
use super::element::{all, child, child_text, children, has, text};
use super::report::Report;
use crate::diagnostic::Severity;
use crate::error::ReadError;

/// A note with a pitch, as it stands in its bar.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct ReadNote {
    /// Since the bar line.
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    /// As it sounds.
    pub(super) written: SpelledPitch,
    pub(super) voice: String,
    pub(super) tablature: bool,
    pub(super) tie_stop: bool,
    pub(super) tie_start: bool,
    pub(super) technique: Technique,
    pub(super) line: u32,
}

/// What `technical` says: where a note is played and with which fingers.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Technique {
    pub(super) string: Option<String>,
    pub(super) fret: Option<String>,
    pub(super) fingering: Option<String>,
    pub(super) pluck: Option<String>,
    /// Whether the note is a harmonic, and which of its pitches is written.
    pub(super) touch: Touch,
    pub(super) written_as: Option<WrittenAs>,
    /// How far above what is stopped an artificial harmonic is touched, where a chord says both.
    pub(super) touched_above: Option<Interval>,
}

/// Which pitch of a harmonic a note is written at, the one that says most first.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum WrittenAs {
    Sounding,
    Base,
    Touching,
}

impl Technique {
    pub(super) fn read(note: Node<'_, '_>) -> Self {
        let mut technique = Self::default();
        let marks =
            all(note, "notations").flat_map(|notations| all(notations, "technical")).flat_map(children);
        for mark in marks {
            let slot = match mark.tag_name().name() {
                "string" => &mut technique.string,
                "fret" => &mut technique.fret,
                "fingering" if mark.attribute("alternate") != Some("yes") => &mut technique.fingering,
                "pluck" => &mut technique.pluck,
                "harmonic" => {
                    technique.read_harmonic(mark);
                    continue;
                }
                _ => continue,
            };
            slot.get_or_insert_with(|| text(mark).to_owned());
        }
        technique
    }

    fn read_harmonic(&mut self, harmonic: Node<'_, '_>) {
        self.touch = if has(harmonic, "artificial") { Touch::Artificial } else { Touch::Natural };
        let kinds = [
            ("sounding-pitch", WrittenAs::Sounding),
            ("base-pitch", WrittenAs::Base),
            ("touching-pitch", WrittenAs::Touching),
        ];
        self.written_as = kinds.into_iter().find(|(name, _)| has(harmonic, name)).map(|(_, kind)| kind);
    }

    /// What both of two writings of one note say.
    pub(super) fn with(self, other: Self) -> Self {
        Self {
            string: self.string.or(other.string),
            fret: self.fret.or(other.fret),
            fingering: self.fingering.or(other.fingering),
            pluck: self.pluck.or(other.pluck),
            touch: self.touch.max(other.touch),
            written_as: self.written_as.or(other.written_as),
            touched_above: self.touched_above.or(other.touched_above),
        }
    }
}

/// Reads a note that takes up time; none where it has no pitch to keep.
pub(super) fn read(
    note: Node<'_, '_>,
    at: Ticks,
    length: Ticks,
    attributes: &Attributes,
    report: &mut Report,
) -> Result<Option<ReadNote>, ReadError> {
    count_ornaments(note, report);
    let Some(pitch) = child(note, "pitch") else { return Ok(None) };
    let technique = Technique::read(note);
    let staff = staff_number(child_text(note, "staff"), 1);
    let Some(written) = read_pitch(pitch, attributes, staff, report)? else {
        return Ok(None);
    };
    if length <= Ticks::ZERO {
        report.say(Severity::Fault, note, "a note without length is not kept");
        return Ok(None);
    }
    Ok(Some(ReadNote {
        at,
        length,
        written,
        voice: child_text(note, "voice").unwrap_or("1").to_owned(),
        tablature: attributes.is_tablature(staff),
        tie_stop: is_tied(note, "stop"),
        tie_start: is_tied(note, "start"),
        technique,
        line: report.line(note),
    }))
}

fn is_tied(note: Node<'_, '_>, kind: &str) -> bool {
    all(note, "tie").any(|tie| tie.attribute("type") == Some(kind))
}

fn read_pitch(
    pitch: Node<'_, '_>,
    attributes: &Attributes,
    staff: u8,
    report: &mut Report,
) -> Result<Option<SpelledPitch>, ReadError> {
    let letter = child_text(pitch, "step").unwrap_or_default();
    let step = Some(letter)
        .filter(|letter| letter.len() == 1)
        .and_then(|letter| Step::from_letter(letter.chars().next()?))
        .ok_or_else(|| report.absurd("the letter of a note", letter, pitch))?;
    let octave_text = child_text(pitch, "octave").unwrap_or_default();
    let octave = octave_text
        .parse()
        .ok()
        .filter(|octave| (-1..=9).contains(octave))
        .ok_or_else(|| report.absurd("the octave of a note", octave_text, pitch))?;
    let alter_text = child_text(pitch, "alter").unwrap_or("0");
    let alter = Decimal::parse(alter_text)
        .filter(|alter| (-3..=3).contains(&alter.truncated()))
        .ok_or_else(|| report.absurd("the accidental of a note", alter_text, pitch))?;
    if !alter.is_whole() {
        let message = "a note between two semitones is kept as the semitone towards its plain letter";
        report.say(Severity::Loss, pitch, message);
    }
    let written = SpelledPitch { spelling: Spelling::new(step, alter.truncated() as i8), octave };
    let sounding = attributes.transposition(staff).pitch(written);
    if sounding.is_none() {
        let message = format!("the note {written} lies beyond what any instrument plays and is not kept");
        report.say(Severity::Fault, pitch, message);
    }
    Ok(sounding)
}

/// Counts what a note carries besides its pitch and length.
fn count_ornaments(note: Node<'_, '_>, report: &mut Report) {
    if has(note, "lyric") {
        report.leave_out("lyrics", note);
    }
    for notation in all(note, "notations").flat_map(children) {
        match notation.tag_name().name() {
            "slur" | "slide" | "glissando" => report.leave_out("slurs and slides", notation),
            "ornaments" | "arpeggiate" => report.leave_out("ornaments", notation),
            "articulations" | "fermata" | "dynamics" => {
                report.leave_out("articulations, fermatas and dynamics", notation);
            }
            _ => {}
        }
    }
}
