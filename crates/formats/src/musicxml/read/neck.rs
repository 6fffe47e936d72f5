//! The instrument of an arrangement: strings and capo from `staff-details`, the neck from the miscellaneous fields.

use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Fret, Instrument, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::spelling::{SpelledPitch, Spelling, Step};
use roxmltree::{Document, Node};

use super::duration::Decimal;
use super::element::{all, child, child_text, text};
use super::part::ReadBar;
use crate::error::ReadError;
use crate::musicxml::neck_field;

/// The instrument; where the file does not say, a guitar in standard tuning with the usual frets, or as many as its
/// notes need.
pub(super) fn read(
    document: &Document<'_>,
    part: Node<'_, '_>,
    bars: &[ReadBar],
) -> Result<Instrument, ReadError> {
    let details = || part.descendants().filter(|node| node.has_tag_name("staff-details"));
    let tuning = details().find_map(tuning).unwrap_or_else(Tuning::standard);
    let capo = details()
        .find_map(|details| child_text(details, "capo"))
        .and_then(|capo| capo.parse().ok())
        .unwrap_or(0_u8);
    let usual = Instrument::classical();
    let printed = bars.iter().flat_map(|bar| &bar.notes).filter_map(|note| note.technique.fret.as_deref());
    let frets = printed.filter_map(|fret| fret.parse::<u8>().ok()).filter(|fret| *fret <= Fret::MAX);
    let needed = frets.map(|fret| fret.saturating_add(capo)).max();
    let frets = field(document, neck_field::FRETS)
        .and_then(|frets| frets.parse().ok())
        .unwrap_or_else(|| usual.frets_from_nut().max(needed.unwrap_or(0).min(24)));
    let scale = field(document, neck_field::SCALE)
        .and_then(|scale| scale.parse().ok())
        .map_or(usual.scale(), Micrometres::new);
    Instrument::try_new(tuning, frets, scale, capo).map_err(|fault| ReadError::Instrument(fault.to_string()))
}

fn field<'a>(document: &'a Document<'_>, name: &str) -> Option<&'a str> {
    let identification = child(document.root_element(), "identification")?;
    let miscellaneous = child(identification, "miscellaneous")?;
    let mut fields = all(miscellaneous, "miscellaneous-field");
    fields.find(|field| field.attribute("name") == Some(name)).map(text)
}

/// The open strings, with the name players give them.
fn tuning(details: Node<'_, '_>) -> Option<Tuning> {
    let mut strings: Vec<(u8, Pitch)> = all(details, "staff-tuning")
        .map(|tuning| Some((tuning.attribute("line")?.trim().parse().ok()?, open_pitch(tuning)?)))
        .collect::<Option<_>>()?;
    // Line 1 is the lowest line and the lowest string.
    strings.sort_by_key(|(line, _)| *line);
    let pitches: Vec<Pitch> = strings.into_iter().map(|(_, pitch)| pitch).collect();
    if pitches.is_empty() {
        return None;
    }
    let midi: Vec<u8> = pitches.iter().map(|pitch| pitch.midi()).collect();
    let common = Tuning::COMMON.iter().find(|(_, strings)| strings[..] == midi[..]);
    let name = common.map_or("own tuning", |(name, _)| name);
    Some(Tuning::from_low_to_high(name, pitches))
}

fn open_pitch(tuning: Node<'_, '_>) -> Option<Pitch> {
    let step = Step::from_letter(child_text(tuning, "tuning-step")?.chars().next()?)?;
    let alter = child_text(tuning, "tuning-alter").map_or(Some(Decimal::ZERO), Decimal::parse)?;
    let written = SpelledPitch {
        spelling: Spelling::new(step, i8::try_from(alter.truncated()).ok()?),
        octave: child_text(tuning, "tuning-octave")?.parse().ok().filter(|o| (0..=9).contains(o))?,
    };
    written.pitch()
}
