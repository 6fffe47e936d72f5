//! The signs and widths of the sheet against the music font's own metadata.

#![expect(clippy::unwrap_used, reason = "a test fails loudly")]

use handspan_sheet::glyph;
use handspan_sheet::glyph::smufl::{STEM_ANCHOR, Sign, width};
use handspan_sheet::points::Points;
use serde_json::Value;

fn metadata() -> Value {
    serde_json::from_str(include_str!("../../../assets/fonts/bravura.metadata.json")).unwrap()
}

/// Every sign of the sheet by the name that SMuFL gives it.
fn signs() -> Vec<(String, Sign)> {
    let mut signs: Vec<(String, Sign)> = Vec::new();
    for n in 0..10 {
        signs.push((format!("timeSig{n}"), Sign::Metre(n)));
        signs.push((format!("tuplet{n}"), Sign::Tuplet(n)));
    }
    for (length, flags) in ["8th", "16th", "32nd", "64th"].into_iter().zip(1..) {
        signs.push((format!("flag{length}Up"), Sign::FlagUp(flags)));
        signs.push((format!("flag{length}Down"), Sign::FlagDown(flags)));
    }
    let named = |prefix: &str, names: &[&str]| -> Vec<String> {
        names.iter().map(|name| format!("{prefix}{name}")).collect()
    };
    let heads = named("notehead", &["Whole", "Half", "Black"]);
    signs.extend(heads.into_iter().zip((0..).map(Sign::Head)));
    let diamonds = named("noteheadDiamond", &["WholeOld", "HalfOld", "BlackOld"]);
    signs.extend(diamonds.into_iter().zip((0..).map(Sign::Diamond)));
    let rests = named("rest", &["Whole", "Half", "Quarter", "8th", "16th", "32nd", "64th"]);
    signs.extend(rests.into_iter().zip((0..).map(Sign::Rest)));
    let accidentals = named("accidental", &["DoubleFlat", "Flat", "Natural", "Sharp", "DoubleSharp"]);
    signs.extend(accidentals.into_iter().zip((-2..).map(Sign::Accidental)));
    let tempi = named("metNote", &["Whole", "HalfUp", "QuarterUp", "8thUp", "16thUp"]);
    signs.extend(tempi.into_iter().zip((0..).map(Sign::TempoNote)));
    let others = [
        ("noteheadXBlack", Sign::Cross),
        ("6stringTabClef", Sign::TabClef),
        ("gClef8vb", Sign::TrebleClef),
        ("augmentationDot", Sign::Dot),
        ("repeatDot", Sign::RepeatDot),
        ("segno", Sign::Segno),
        ("coda", Sign::Coda),
        ("metAugmentationDot", Sign::TempoDot),
    ];
    signs.extend(others.map(|(name, sign)| (name.to_owned(), sign)));
    signs
}

#[test]
fn line_widths_and_anchors_are_those_of_the_font() {
    let metadata = metadata();
    let widths = [
        ("staffLineThickness", width::STAFF_LINE),
        ("stemThickness", width::STEM),
        ("beamThickness", width::BEAM),
        ("beamSpacing", width::BEAM_GAP),
        ("thinBarlineThickness", width::THIN_BAR_LINE),
        ("thickBarlineThickness", width::THICK_BAR_LINE),
        ("barlineSeparation", width::BAR_LINE_GAP),
        ("repeatBarlineDotSeparation", width::REPEAT_DOT_GAP),
        ("repeatEndingLineThickness", width::ENDING),
        ("tieMidpointThickness", width::TIE),
        ("legerLineThickness", width::LEDGER_LINE),
        ("legerLineExtension", width::LEDGER_EXTENSION),
        ("tupletBracketThickness", width::TUPLET_BRACKET),
    ];
    for (name, used) in widths {
        assert_eq!(metadata["engravingDefaults"][name].as_f64(), Some(used), "{name}");
    }
    for head in ["noteheadBlack", "noteheadHalf"] {
        let anchors = &metadata["glyphsWithAnchors"][head];
        assert_eq!(anchors["stemUpSE"][1].as_f64(), Some(STEM_ANCHOR), "{head}");
        assert_eq!(anchors["stemDownNW"][1].as_f64(), Some(-STEM_ANCHOR), "{head}");
    }
    // A diamond's stem begins at its tips, in the middle within two hundredths of a space.
    for head in ["noteheadDiamondBlackOld", "noteheadDiamondHalfOld"] {
        let anchors = &metadata["glyphsWithAnchors"][head];
        for tip in ["stemUpSE", "stemDownNW"] {
            assert!(anchors[tip][1].as_f64().unwrap().abs() < 0.02, "{head}");
        }
    }
}

#[test]
fn every_sign_has_the_box_that_the_metadata_gives_it() {
    let metadata = metadata();
    let boxes = metadata["glyphBBoxes"].as_object().unwrap();
    let signs = signs();
    assert_eq!(boxes.len(), signs.len());
    for (name, sign) in signs {
        let ink = glyph::sign(sign, Points::new(1.0)).bounds().unwrap();
        let edge = |corner: &str, axis: usize| boxes[&name][corner][axis].as_f64().unwrap();
        let wanted = [edge("bBoxSW", 0), edge("bBoxSW", 1), edge("bBoxNE", 0), edge("bBoxNE", 1)];
        let drawn = [ink.left, -ink.bottom, ink.right, -ink.top].map(Points::count);
        // Outwards from the middle of the sign; two units of the font, because its outlines are in whole ones, and a
        // little more where a slanted curve is bounded by its control points.
        let outwards = [-1.0, -1.0, 1.0, 1.0];
        for ((wanted, drawn), outwards) in wanted.into_iter().zip(drawn).zip(outwards) {
            let beyond = (drawn - wanted) * outwards;
            assert!((-0.008..0.1).contains(&beyond), "{name}: {wanted} is drawn at {drawn}");
        }
    }
}
