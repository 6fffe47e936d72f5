//! Signs at bar lines and above the staff: repeats, endings, segno, coda, jumps, sections, tempo.

use handspan_core::time::{Tempo, Ticks};
use handspan_core::tune::{Bar, Ending, Jump};
use roxmltree::Node;

use super::element::{all, child, child_text, children, has, says, text};
use super::report::{Report, shortened};
use crate::diagnostic::Severity;

/// Repeats and endings of a `barline`.
pub(super) fn read_barline(barline: Node<'_, '_>, bar: &mut Bar, report: &mut Report) {
    if barline.attribute("location") == Some("middle") && (has(barline, "repeat") || has(barline, "ending")) {
        let message = "a repeat or an ending in the middle of a bar is kept at the bar's end";
        report.say(Severity::Loss, barline, message);
    }
    if let Some(repeat) = child(barline, "repeat") {
        if repeat.attribute("direction") == Some("forward") {
            bar.repeat_start = true;
        } else {
            bar.repeat_end = Some(times(repeat, report));
        }
    }
    if let Some(ending) = child(barline, "ending") {
        if ending.attribute("type") == Some("start") {
            let passes = passes(ending.attribute("number").unwrap_or_default());
            if passes.is_empty() {
                let message = "an ending says no number of 1 to 99; it is played every time";
                report.say(Severity::Loss, ending, message);
            } else {
                bar.ending = Some(Ending { passes });
            }
        } else {
            bar.ending_stops = true;
        }
    }
    read_sign_elements(barline, bar);
}

/// How often a repeated passage is played in all.
fn times(repeat: Node<'_, '_>, report: &mut Report) -> u8 {
    let Some(written) = repeat.attribute("times") else {
        return 2;
    };
    let times = written.trim().parse().ok();
    times.filter(|times| (2..=99).contains(times)).unwrap_or_else(|| {
        let message = format!("a passage can't be played {} times; it is played twice", shortened(written));
        report.say(Severity::Loss, repeat, message);
        2
    })
}

/// The passes of an ending: `1`, `1, 2`, `1-3`, `1.`.
fn passes(number: &str) -> Vec<u8> {
    let pieces = number.split([',', ' ', '.', ';', '+']).filter(|piece| !piece.is_empty());
    let range = |piece: &str| {
        let (first, last) = piece.split_once(['-', '–']).unwrap_or((piece, piece));
        let pass = |text: &str| text.parse::<u8>().ok().filter(|pass| (1..=99).contains(pass));
        Some(pass(first)?..=pass(last)?)
    };
    let mut passes: Vec<u8> = pieces.filter_map(range).flatten().collect();
    passes.sort_unstable();
    passes.dedup();
    passes
}

/// What a `direction` says, at its time since the bar line.
#[derive(Default)]
pub(super) struct Directions {
    pub(super) tempi: Vec<(Ticks, Tempo)>,
    /// Bars (by index) with a coda sign that no `sound` explains.
    pub(super) bare_codas: Vec<usize>,
}

/// Reads a `direction` of the bar with this index.
pub(super) fn read_direction(
    direction: Node<'_, '_>,
    at: Ticks,
    index: usize,
    bar: &mut Bar,
    directions: &mut Directions,
    report: &mut Report,
) {
    let sound = child(direction, "sound");
    let tempi_before = directions.tempi.len();
    if let Some(sound) = sound {
        read_sound(sound, at, bar, directions, report);
    }
    let explained = sound.is_some_and(|sound| {
        ["dacapo", "dalsegno", "segno", "coda", "tocoda", "fine"]
            .into_iter()
            .any(|sign| says(sound, sign).is_some())
    });
    let mut words = String::new();
    let mut coda = false;
    for sign in all(direction, "direction-type").flat_map(children) {
        match sign.tag_name().name() {
            "rehearsal" => bar.section = Some(text(sign).to_owned()).filter(|name| !name.is_empty()),
            "segno" => bar.segno = true,
            "coda" => coda = true,
            "words" => words = format!("{words} {}", text(sign)),
            "metronome" if directions.tempi.len() == tempi_before => {
                directions.tempi.extend(metronome(sign, report).map(|tempo| (at, tempo)));
            }
            "metronome" => {}
            "dynamics" | "wedge" => report.leave_out("articulations, fermatas and dynamics", sign),
            _ => report.leave_out("pedal marks, lines and other directions", sign),
        }
    }
    let word_sign = WordSign::of(&words);
    if word_sign.is_none() && !words.is_empty() && !explained {
        report.leave_out("words above the staff", direction);
    }
    match word_sign {
        _ if explained => {}
        Some(sign) => sign.set(bar),
        None if coda => directions.bare_codas.push(index),
        None => {}
    }
}

/// Segno and coda as children of a `barline`, and its `segno` and `coda` attributes.
fn read_sign_elements(barline: Node<'_, '_>, bar: &mut Bar) {
    bar.segno |= has(barline, "segno") || says(barline, "segno").is_some();
    bar.coda |= has(barline, "coda") || says(barline, "coda").is_some();
}

/// What a `sound` element says about order and tempo.
pub(super) fn read_sound(
    sound: Node<'_, '_>,
    at: Ticks,
    bar: &mut Bar,
    directions: &mut Directions,
    report: &mut Report,
) {
    bar.segno |= says(sound, "segno").is_some();
    bar.coda |= says(sound, "coda").is_some();
    bar.to_coda |= says(sound, "tocoda").is_some();
    bar.fine |= says(sound, "fine").is_some();
    if says(sound, "dalsegno").is_some() {
        bar.jump = Some(Jump::DalSegno);
    }
    if says(sound, "dacapo").is_some() {
        bar.jump = Some(Jump::DaCapo);
    }
    if let Some(tempo) = sound.attribute("tempo") {
        directions.tempi.extend(read_tempo(tempo, 1.0, sound, report).map(|tempo| (at, tempo)));
    }
}

/// A metronome mark with a number.
fn metronome(mark: Node<'_, '_>, report: &mut Report) -> Option<Tempo> {
    let per_minute = child_text(mark, "per-minute")?;
    let unit = match child_text(mark, "beat-unit")? {
        "whole" => 4.0,
        "half" => 2.0,
        "quarter" => 1.0,
        "eighth" => 0.5,
        "16th" => 0.25,
        _ => return None,
    };
    let dots = all(mark, "beat-unit-dot").count().min(3) as i32;
    let dotted = unit * (2.0 - f64::powi(0.5, dots));
    let number: String = per_minute
        .chars()
        .skip_while(|c| !c.is_ascii_digit())
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    read_tempo(&number, dotted, mark, report)
}

/// A tempo in units of so many quarters, as whole quarter notes a minute.
fn read_tempo(number: &str, quarters: f64, node: Node<'_, '_>, report: &mut Report) -> Option<Tempo> {
    let exact = number.trim().parse().ok().map(|n: f64| n * quarters);
    let whole = exact
        .filter(|q| (f64::from(Tempo::MIN)..=f64::from(Tempo::MAX)).contains(q))
        .and_then(|q| Tempo::try_new(q.round() as u16));
    if whole.is_none() {
        let message = format!(
            "a tempo of {} is not kept; a tempo lies between {} and {} quarter notes a minute",
            shortened(number),
            Tempo::MIN,
            Tempo::MAX
        );
        report.say(Severity::Loss, node, message);
    }
    whole
}

/// A sign that is only said in words.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum WordSign {
    DaCapo,
    DalSegno,
    ToCoda,
    Coda,
    Fine,
}

impl WordSign {
    /// The sign that words above the staff name, as lead sheets write it.
    fn of(words: &str) -> Option<Self> {
        let plain: String =
            words.to_lowercase().chars().filter(|c| c.is_alphabetic() || c.is_whitespace()).collect();
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
        let begins = |names: &[&str]| {
            names.iter().any(|name| {
                plain == *name || plain.strip_prefix(name).is_some_and(|rest| rest.starts_with(" al "))
            })
        };
        if begins(&["dc", "d c", "da capo"]) {
            Some(Self::DaCapo)
        } else if begins(&["ds", "d s", "dal segno"]) {
            Some(Self::DalSegno)
        } else {
            match plain.as_str() {
                "to coda" | "al coda" => Some(Self::ToCoda),
                "coda" => Some(Self::Coda),
                "fine" => Some(Self::Fine),
                _ => None,
            }
        }
    }

    const fn set(self, bar: &mut Bar) {
        match self {
            Self::DaCapo => bar.jump = Some(Jump::DaCapo),
            Self::DalSegno => bar.jump = Some(Jump::DalSegno),
            Self::ToCoda => bar.to_coda = true,
            Self::Coda => bar.coda = true,
            Self::Fine => bar.fine = true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn endings_name_their_passes() {
        assert_eq!(passes("1"), [1]);
        assert_eq!(passes("1, 2"), [1, 2]);
        assert_eq!(passes("1-3"), [1, 2, 3]);
        assert_eq!(passes("2. 4."), [2, 4]);
        assert!(passes("").is_empty());
        assert!(passes("0").is_empty());
        assert!(passes("1000").is_empty());
    }

    #[test]
    fn words_that_lead_sheets_use() {
        let check = |words, expected| assert_eq!(WordSign::of(words), expected, "{words}");
        check("D.C. al Fine", Some(WordSign::DaCapo));
        check(" D. S.  al Coda", Some(WordSign::DalSegno));
        check("Da Capo", Some(WordSign::DaCapo));
        check("To Coda", Some(WordSign::ToCoda));
        check("Fine", Some(WordSign::Fine));
        check("Fine and mellow", None);
        check("dcx", None);
        check("Lively", None);
    }
}
