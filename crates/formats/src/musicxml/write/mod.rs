//! Writing: score → voices → the events of every bar → MusicXML 4.0.
//!
//! One part with two staves: a treble staff an octave down with both hands' fingers, and the tablature with strings
//! and frets. Every note stands in both, with the same lengths and ties.

mod attributes;
mod bar;
mod beams;
mod events;
mod harmony;
mod header;
mod note;
mod signs;
mod taps;
mod value;
mod voices;
mod xml;

use handspan_core::arrangement::Score;

use self::bar::BarWriter;
use self::events::{BarEvents, divisions};
use self::xml::Xml;

/// Writes an arrangement as MusicXML 4.0, score-partwise, uncompressed.
///
/// The same score gives the same text. [`super::read_score`] gives the same score back, as long as the melody and the
/// bass are of one voice each.
pub fn write_score(score: &Score) -> String {
    let voices = voices::assign(score);
    let bars: Vec<BarEvents> =
        (0..score.tune.bars().len()).map(|index| events::of_bar(score, &voices, index)).collect();
    let divisions = divisions(score, &bars);
    let mut xml = Xml::score();
    xml.element("score-partwise", &[("version", "4.0")], |xml| {
        header::write(xml, score);
        xml.element("part", &[("id", header::PART)], |xml| {
            let mut writer = BarWriter::new(score, &voices, divisions);
            for (index, events) in bars.iter().enumerate() {
                writer.write(xml, index, events);
            }
        });
    });
    xml.finish()
}
