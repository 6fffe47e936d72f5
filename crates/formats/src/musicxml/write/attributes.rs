//! Divisions, key, metre, clefs and the tuning, where they begin to hold.

use handspan_core::arrangement::Score;
use handspan_core::harmony::{Key, Mode};
use handspan_core::neck::Instrument;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::Metre;

use super::xml::Xml;

/// Everything, for the first bar.
pub(super) fn write_first(xml: &mut Xml, score: &Score, divisions: i64) {
    let bar = &score.tune.bars()[0];
    xml.element("attributes", &[], |xml| {
        xml.text("divisions", divisions);
        key(xml, bar.key);
        time(xml, bar.metre);
        xml.text("staves", 2);
        xml.element("clef", &[("number", "1")], |xml| {
            xml.text("sign", "G");
            xml.text("line", 2);
            xml.text("clef-octave-change", -1);
        });
        xml.element("clef", &[("number", "2")], |xml| {
            xml.text("sign", "TAB");
            xml.text("line", 5);
        });
        staff_details(xml, &score.instrument);
    });
}

/// What changes from one bar to the next.
pub(super) fn write_changes(xml: &mut Xml, score: &Score, index: usize) {
    let (before, bar) = (&score.tune.bars()[index - 1], &score.tune.bars()[index]);
    if (before.key, before.metre) == (bar.key, bar.metre) {
        return;
    }
    xml.element("attributes", &[], |xml| {
        if before.key != bar.key {
            key(xml, bar.key);
        }
        if before.metre != bar.metre {
            time(xml, bar.metre);
        }
    });
}

fn key(xml: &mut Xml, key: Key) {
    xml.element("key", &[], |xml| {
        xml.text("fifths", key.fifths());
        xml.text(
            "mode",
            match key.mode() {
                Mode::Major => "major",
                Mode::Minor => "minor",
            },
        );
    });
}

fn time(xml: &mut Xml, metre: Metre) {
    xml.element("time", &[], |xml| {
        xml.text("beats", metre.beats());
        xml.text("beat-type", metre.unit());
    });
}

/// The tablature's lines, from the lowest string up, and the capo.
fn staff_details(xml: &mut Xml, instrument: &Instrument) {
    xml.element("staff-details", &[("number", "2")], |xml| {
        xml.text("staff-lines", instrument.string_count());
        for (index, open) in instrument.tuning().open_strings().iter().rev().enumerate() {
            let written = SpelledPitch::new(*open, Spelling::of_class_in(open.class(), 0));
            xml.element("staff-tuning", &[("line", &(index + 1).to_string())], |xml| {
                xml.text("tuning-step", written.spelling.step.letter());
                if written.spelling.alter != 0 {
                    xml.text("tuning-alter", written.spelling.alter);
                }
                xml.text("tuning-octave", written.octave);
            });
        }
        if instrument.capo() > 0 {
            xml.text("capo", instrument.capo());
        }
    });
}
