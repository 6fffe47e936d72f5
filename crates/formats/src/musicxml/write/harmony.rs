//! Chord symbols.

use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind};
use handspan_core::spelling::Spelling;

use super::xml::Xml;

/// Writes a symbol so many divisions after where the file stands.
pub(super) fn write(xml: &mut Xml, symbol: &ChordSymbol, offset: i64) {
    xml.element("harmony", &[], |xml| {
        match symbol {
            ChordSymbol::Chord(chord) => write_chord(xml, chord),
            // The standard wants a root here as well; readers show only the text.
            ChordSymbol::NoChord => {
                xml.element("root", &[], |xml| xml.text_with("root-step", &[("text", "")], "C"));
                xml.text_with("kind", &[("text", "N.C.")], "none");
            }
        }
        if offset != 0 {
            xml.text("offset", offset);
        }
        xml.text("staff", 1);
    });
}

fn write_chord(xml: &mut Xml, chord: &Chord) {
    spelled(xml, "root", "root-step", "root-alter", chord.root);
    let kind = chord.kind.musicxml();
    match &chord.printed {
        Some(printed) => xml.text_with("kind", &[("text", printed)], kind),
        None => xml.text("kind", kind),
    }
    if let Some(bass) = chord.bass {
        spelled(xml, "bass", "bass-step", "bass-alter", bass);
    }
    for degree in &chord.degrees {
        write_degree(xml, *degree);
    }
}

fn spelled(xml: &mut Xml, name: &str, step: &str, alter: &str, spelling: Spelling) {
    xml.element(name, &[], |xml| {
        xml.text(step, spelling.step.letter());
        if spelling.alter != 0 {
            xml.text(alter, spelling.alter);
        }
    });
}

fn write_degree(xml: &mut Xml, degree: Degree) {
    xml.element("degree", &[], |xml| {
        xml.text("degree-value", degree.number);
        xml.text("degree-alter", degree.alter);
        xml.text(
            "degree-type",
            match degree.kind {
                DegreeKind::Add => "add",
                DegreeKind::Alter => "alter",
                DegreeKind::Subtract => "subtract",
            },
        );
    });
}
