//! Title, composer, where the file comes from, and the one part.

use handspan_core::arrangement::Score;

use super::xml::Xml;
use crate::musicxml::neck_field;

/// The part's identifier.
pub(super) const PART: &str = "P1";
const INSTRUMENT: &str = "P1-I1";
/// The nylon-string guitar of the General MIDI sound set, counted from 1.
const NYLON_GUITAR: u8 = 25;

pub(super) fn write(xml: &mut Xml, score: &Score) {
    let tune = &score.tune;
    if !tune.title().is_empty() {
        xml.element("work", &[], |xml| xml.text("work-title", tune.title()));
    }
    xml.element("identification", &[], |xml| {
        if !tune.composer().is_empty() {
            xml.text_with("creator", &[("type", "composer")], tune.composer());
        }
        xml.element("encoding", &[], |xml| xml.text("software", "Handspan"));
        // The standard has no elements for the neck.
        xml.element("miscellaneous", &[], |xml| {
            let neck = &score.instrument;
            let mut field = |name, value: i32| xml.text_with("miscellaneous-field", &[("name", name)], value);
            field(neck_field::FRETS, i32::from(neck.frets_from_nut()));
            field(neck_field::SCALE, neck.scale().count());
        });
    });
    xml.element("part-list", &[], |xml| {
        xml.element("score-part", &[("id", PART)], |xml| {
            xml.text("part-name", "Guitar");
            xml.element("score-instrument", &[("id", INSTRUMENT)], |xml| {
                xml.text("instrument-name", "Guitar");
            });
            xml.element("midi-instrument", &[("id", INSTRUMENT)], |xml| {
                xml.text("midi-program", NYLON_GUITAR);
            });
        });
    });
}
