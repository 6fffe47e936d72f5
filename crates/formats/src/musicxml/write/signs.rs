//! Bar lines, repeats, endings, sections, jumps and tempi.

use handspan_core::time::{Tempo, Ticks};
use handspan_core::tune::{Bar, Ending, Jump, Tune};

use super::xml::Xml;

/// The left bar line, where it says something.
pub(super) fn left_line(xml: &mut Xml, bar: &Bar) {
    if !bar.repeat_start && bar.ending.is_none() {
        return;
    }
    xml.element("barline", &[("location", "left")], |xml| {
        if bar.repeat_start {
            xml.text("bar-style", "heavy-light");
        }
        if let Some(ending) = &bar.ending {
            xml.empty("ending", &[("number", &passes(ending)), ("type", "start")]);
        }
        if bar.repeat_start {
            xml.empty("repeat", &[("direction", "forward")]);
        }
    });
}

/// The right bar line, where it says something; the ending is the one that is open.
pub(super) fn right_line(xml: &mut Xml, bar: &Bar, ending: Option<&Ending>, is_last: bool) {
    if bar.repeat_end.is_none() && !bar.ending_stops && !is_last {
        return;
    }
    xml.element("barline", &[("location", "right")], |xml| {
        if bar.repeat_end.is_some() || is_last {
            xml.text("bar-style", "light-heavy");
        }
        if bar.ending_stops {
            let number = ending.map_or_else(|| "1".to_owned(), passes);
            let kind = if bar.repeat_end.is_some() { "stop" } else { "discontinue" };
            xml.empty("ending", &[("number", &number), ("type", kind)]);
        }
        match bar.repeat_end {
            Some(2) => xml.empty("repeat", &[("direction", "backward")]),
            Some(times) => {
                xml.empty("repeat", &[("direction", "backward"), ("times", &times.to_string())]);
            }
            None => {}
        }
    });
}

fn passes(ending: &Ending) -> String {
    let passes: Vec<String> = ending.passes.iter().map(u8::to_string).collect();
    passes.join(", ")
}

/// What stands above the beginning of a bar.
pub(super) fn at_beginning(xml: &mut Xml, bar: &Bar) {
    if let Some(section) = &bar.section {
        direction(xml, None, |xml| xml.text("rehearsal", section), 0);
    }
    if bar.segno {
        direction(xml, Some(("segno", "segno")), |xml| xml.empty("segno", &[]), 0);
    }
    if bar.coda {
        direction(xml, Some(("coda", "coda")), |xml| xml.empty("coda", &[]), 0);
    }
}

/// What stands above the end of a bar.
pub(super) fn at_end(xml: &mut Xml, bar: &Bar, tune: &Tune) {
    if bar.to_coda {
        direction(xml, Some(("tocoda", "coda")), |xml| xml.text("words", "To Coda"), 0);
    }
    if bar.fine {
        direction(xml, Some(("fine", "yes")), |xml| xml.text("words", "Fine"), 0);
    }
    let until = if tune.bars().iter().any(|b| b.to_coda) {
        " al Coda"
    } else if tune.bars().iter().any(|b| b.fine) {
        " al Fine"
    } else {
        ""
    };
    let jump = |xml: &mut Xml, sound, words: &str| {
        direction(xml, Some(sound), |xml| xml.text("words", format!("{words}{until}")), 0);
    };
    match bar.jump {
        Some(Jump::DaCapo) => jump(xml, ("dacapo", "yes"), "D.C."),
        Some(Jump::DalSegno) => jump(xml, ("dalsegno", "segno"), "D.S."),
        None => {}
    }
}

/// A tempo as a metronome mark, in the beats that players count where they come out even.
pub(super) fn tempo(xml: &mut Xml, tempo: Tempo, beat: Ticks, offset: i64) {
    let quarters = i64::from(tempo.quarters_a_minute());
    let dotted = beat == Ticks::QUARTER + Ticks::new(Ticks::PER_QUARTER / 2) && quarters % 3 == 0;
    let per_minute = if dotted { quarters / 3 * 2 } else { quarters };
    let quarters = quarters.to_string();
    let mark = |xml: &mut Xml| {
        xml.element("metronome", &[], |xml| {
            xml.text("beat-unit", "quarter");
            if dotted {
                xml.empty("beat-unit-dot", &[]);
            }
            xml.text("per-minute", per_minute);
        });
    };
    direction(xml, Some(("tempo", &quarters)), mark, offset);
}

fn direction(xml: &mut Xml, sound: Option<(&str, &str)>, inside: impl FnOnce(&mut Xml), offset: i64) {
    xml.element("direction", &[("placement", "above")], |xml| {
        xml.element("direction-type", &[], inside);
        if offset != 0 {
            xml.text("offset", offset);
        }
        xml.text("staff", 1);
        if let Some(sound) = sound {
            xml.empty("sound", &[sound]);
        }
    });
}
