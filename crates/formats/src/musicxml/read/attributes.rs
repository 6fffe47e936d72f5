//! What holds from somewhere on: divisions, key, metre, transposition, which staves are tablature.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::harmony::{ChordSymbol, Key, Mode};
use handspan_core::pitch::Interval;
use handspan_core::spelling::SpelledPitch;
use handspan_core::time::Metre;
use roxmltree::Node;

use super::duration::Decimal;
use super::element::{all, child, child_text, has, text};
use super::report::Report;
use crate::diagnostic::Severity;
use crate::error::ReadError;

/// How far what sounds lies from what is written.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Transposition {
    interval: Interval,
    /// The same on the line of fifths, for spellings.
    fifths: i32,
}

impl Transposition {
    pub(super) fn pitch(self, written: SpelledPitch) -> Option<SpelledPitch> {
        written.transposed(self.interval, self.fifths)
    }

    pub(super) fn chord(self, written: &ChordSymbol) -> ChordSymbol {
        written.transposed(self.fifths)
    }

    fn key(self, written: Key) -> Key {
        let fifths = i8::try_from(i32::from(written.fifths()) + self.fifths).unwrap_or(i8::MAX);
        Key::try_new(fifths, written.mode()).unwrap_or_else(|| written.transposed(self.interval).0)
    }
}

/// What holds at the place that is being read.
pub(super) struct Attributes {
    pub(super) divisions: Decimal,
    pub(super) metre: Metre,
    written_key: Key,
    /// By staff number; 0 stands for all staves.
    transpositions: BTreeMap<u8, Transposition>,
    tablature: BTreeSet<u8>,
}

impl Default for Attributes {
    fn default() -> Self {
        Self {
            divisions: Decimal::ONE,
            metre: Metre::COMMON,
            written_key: Key::default(),
            transpositions: BTreeMap::new(),
            tablature: BTreeSet::new(),
        }
    }
}

impl Attributes {
    /// The key as it sounds.
    pub(super) fn key(&self) -> Key {
        self.transposition(1).key(self.written_key)
    }

    pub(super) fn transposition(&self, staff: u8) -> Transposition {
        let all_staves = self.transpositions.get(&0);
        let here = self.transpositions.get(&staff).or(all_staves);
        here.copied().unwrap_or_default()
    }

    /// Whether a staff is tablature.
    pub(super) fn is_tablature(&self, staff: u8) -> bool {
        self.tablature.contains(&staff)
    }

    /// Takes over what an `attributes` element changes.
    pub(super) fn read(&mut self, node: Node<'_, '_>, report: &mut Report) -> Result<(), ReadError> {
        if let Some(divisions) = child(node, "divisions") {
            self.divisions =
                Decimal::parse(text(divisions)).filter(|d| d.is_positive()).ok_or_else(|| {
                    report.absurd("the number of divisions of a quarter note", text(divisions), divisions)
                })?;
        }
        if let Some(key) = child(node, "key") {
            self.read_key(key, report);
        }
        if let Some(time) = child(node, "time") {
            self.read_metre(time, report)?;
        }
        for transpose in all(node, "transpose") {
            self.read_transposition(transpose, report)?;
        }
        for clef in all(node, "clef") {
            let staff = staff_number(clef.attribute("number"), 1);
            if child_text(clef, "sign") == Some("TAB") {
                self.tablature.insert(staff);
            } else {
                self.tablature.remove(&staff);
            }
        }
        Ok(())
    }

    fn read_key(&mut self, key: Node<'_, '_>, report: &mut Report) {
        let fifths = child_text(key, "fifths").and_then(|f| f.parse().ok());
        let mode = match child_text(key, "mode") {
            Some("minor" | "dorian" | "phrygian" | "aeolian" | "locrian") => Mode::Minor,
            _ => Mode::Major,
        };
        match fifths.and_then(|fifths| Key::try_new(fifths, mode)) {
            Some(key) => self.written_key = key,
            None => report.say(
                Severity::Loss,
                key,
                "a key signature other than seven sharps to seven flats is not kept; the one before it goes on",
            ),
        }
    }

    fn read_metre(&mut self, time: Node<'_, '_>, report: &mut Report) -> Result<(), ReadError> {
        if has(time, "senza-misura") {
            report.say(
                Severity::Loss,
                time,
                "a bar without metre keeps its length, counted in the metre before it",
            );
            return Ok(());
        }
        let pairs: Vec<(&str, &str)> =
            all(time, "beats").map(text).zip(all(time, "beat-type").map(text)).collect();
        let metres: Option<Vec<Metre>> = pairs.iter().map(|(beats, unit)| one_metre(beats, unit)).collect();
        let metre = metres.and_then(|metres| added(&metres));
        let said = || pairs.iter().map(|(beats, unit)| format!("{beats}/{unit}")).collect::<Vec<_>>();
        self.metre = metre.ok_or_else(|| report.absurd("the metre", &said().join(" + "), time))?;
        Ok(())
    }

    fn read_transposition(&mut self, transpose: Node<'_, '_>, report: &Report) -> Result<(), ReadError> {
        let number = |name| -> Result<i64, ReadError> {
            let Some(node) = child(transpose, name) else {
                return Ok(0);
            };
            let number = Decimal::parse(text(node)).map(Decimal::truncated);
            number
                .filter(|n| (-48..=48).contains(n))
                .ok_or_else(|| report.absurd("a transposition", text(node), node))
        };
        let (chromatic, diatonic) = (number("chromatic")?, number("diatonic")?);
        let octaves = number("octave-change")?;
        let interval = Interval::new((chromatic + 12 * octaves) as i16);
        // Where the two contradict each other, the semitones count.
        let said = has(transpose, "diatonic").then_some(7 * chromatic - 12 * diatonic);
        let said = said.filter(|fifths| (-12..=12).contains(fifths));
        let fifths = said.map_or_else(|| Key::default().transposed(interval).1, |fifths| fifths as i32);
        let staff = staff_number(transpose.attribute("number"), 0);
        self.transpositions.insert(staff, Transposition { interval, fifths });
        Ok(())
    }
}

/// The number of a staff from an attribute or an element.
pub(super) fn staff_number(text: Option<&str>, missing: u8) -> u8 {
    text.and_then(|number| number.trim().parse().ok()).unwrap_or(missing)
}

/// `3` or `3+2` beats of a unit.
fn one_metre(beats: &str, unit: &str) -> Option<Metre> {
    let sum = beats.split('+').try_fold(0_u8, |sum, beats| {
        let beats: u8 = beats.trim().parse().ok().filter(|b| *b > 0)?;
        sum.checked_add(beats)
    })?;
    Metre::try_new(sum, unit.parse().ok()?)
}

/// Metres that follow one another in every bar, as one of the smallest unit.
fn added(metres: &[Metre]) -> Option<Metre> {
    let unit = metres.iter().map(|metre| metre.unit()).max()?;
    let beats = metres
        .iter()
        .try_fold(0_u8, |sum, metre| sum.checked_add(metre.beats().checked_mul(unit / metre.unit())?))?;
    Metre::try_new(beats, unit)
}
