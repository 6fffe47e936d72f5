//! Walks through one part, bar by bar, and turns its elements into bars, notes, chords and tempi at their times.

use handspan_core::harmony::ChordSymbol;
use handspan_core::time::{Tempo, Ticks};
use handspan_core::tune::Bar;
use roxmltree::Node;

use super::attributes::Attributes;
use super::duration::{Decimal, Length, length, note_value};
use super::element::{all, child, child_text, children, has, text};
use super::harmony;
use super::note::{self, ReadNote};
use super::report::Report;
use super::signs::{self, Directions};
use super::taps::{self, ReadTap};
use crate::diagnostic::Severity;
use crate::error::ReadError;

/// A bar as it was read; times are since its line.
pub(super) struct ReadBar {
    pub(super) bar: Bar,
    pub(super) notes: Vec<ReadNote>,
    pub(super) chords: Vec<(Ticks, ChordSymbol)>,
    pub(super) tempi: Vec<(Ticks, Tempo)>,
    /// In order of time, none beside another.
    pub(super) taps: Vec<ReadTap>,
}

/// The bars of a part, in written order, with their starts set.
pub(super) fn read(part: Node<'_, '_>, report: &mut Report) -> Result<Vec<ReadBar>, ReadError> {
    let mut attributes = Attributes::default();
    let mut bare_codas = Vec::new();
    let mut bars: Vec<ReadBar> = Vec::new();
    for (index, measure) in all(part, "measure").enumerate() {
        let number = measure.attribute("number").map_or_else(|| (index + 1).to_string(), str::to_owned);
        report.enter(Some(number.clone()));
        let mut reader = BarReader::new(number, index, &mut attributes, report);
        for element in children(measure) {
            reader.read(element)?;
        }
        bare_codas.append(&mut reader.directions.bare_codas);
        let mut bar = reader.finish();
        bar.bar.start = bars.last().map_or(Ticks::ZERO, |before| before.bar.end());
        bars.push(bar);
    }
    report.enter(None);
    place_codas(&mut bars, &bare_codas);
    Ok(bars)
}

/// Of coda signs that stand alone, the last one is the coda; one before it is where the bar is left for it.
fn place_codas(bars: &mut [ReadBar], bare: &[usize]) {
    let known = bars.iter().any(|b| b.bar.coda);
    match bare {
        [] => {}
        [.., last] if !known => {
            bars[*last].bar.coda = true;
            if let [first, _, ..] = bare {
                bars[*first].bar.to_coda = true;
            }
        }
        [first, ..] => bars[*first].bar.to_coda |= !bars[*first].bar.coda,
    }
}

struct BarReader<'r> {
    attributes: &'r mut Attributes,
    report: &'r mut Report,
    index: usize,
    bar: Bar,
    notes: Vec<ReadNote>,
    taps: Vec<ReadTap>,
    chords: Vec<(Ticks, ChordSymbol)>,
    directions: Directions,
    /// Where reading stands, where the last note began, and the furthest time reached.
    now: Ticks,
    last: Ticks,
    furthest: Ticks,
    graces: usize,
    cues: usize,
    first_small: Option<u32>,
}

impl<'r> BarReader<'r> {
    fn new(number: String, index: usize, attributes: &'r mut Attributes, report: &'r mut Report) -> Self {
        let bar = Bar::plain(number, Ticks::ZERO, attributes.metre, attributes.key());
        Self {
            attributes,
            report,
            index,
            bar,
            notes: Vec::new(),
            taps: Vec::new(),
            chords: Vec::new(),
            directions: Directions::default(),
            now: Ticks::ZERO,
            last: Ticks::ZERO,
            furthest: Ticks::ZERO,
            graces: 0,
            cues: 0,
            first_small: None,
        }
    }

    fn read(&mut self, element: Node<'_, '_>) -> Result<(), ReadError> {
        match element.tag_name().name() {
            "attributes" => self.read_attributes(element)?,
            "note" => self.read_note(element)?,
            "backup" => {
                let back = self.duration(element)?.unwrap_or_default();
                self.now = (self.now - back).max(Ticks::ZERO);
            }
            "forward" => {
                let on = self.duration(element)?.unwrap_or_default();
                self.advance(on.max(Ticks::ZERO));
            }
            "harmony" => {
                let at = self.offset(element)?;
                let symbol = harmony::read(element, self.report);
                let transposition = self.attributes.transposition(1);
                self.chords.extend(symbol.map(|symbol| (at, transposition.chord(&symbol))));
            }
            "barline" => signs::read_barline(element, &mut self.bar, self.report),
            "direction" => {
                let at = self.offset(element)?;
                let (bar, directions) = (&mut self.bar, &mut self.directions);
                signs::read_direction(element, at, self.index, bar, directions, self.report);
            }
            "sound" => {
                let at = self.offset(element)?;
                signs::read_sound(element, at, &mut self.bar, &mut self.directions, self.report);
            }
            "figured-bass" => self.report.leave_out("figured basses", element),
            _ => {}
        }
        Ok(())
    }

    fn read_attributes(&mut self, element: Node<'_, '_>) -> Result<(), ReadError> {
        self.attributes.read(element, self.report)?;
        if self.furthest == Ticks::ZERO {
            (self.bar.metre, self.bar.key) = (self.attributes.metre, self.attributes.key());
        } else if self.bar.key != self.attributes.key() || self.bar.metre != self.attributes.metre {
            let message = "a change of key or metre in the middle of a bar is kept from the next bar on";
            self.report.say(Severity::Loss, element, message);
        }
        Ok(())
    }

    fn read_note(&mut self, element: Node<'_, '_>) -> Result<(), ReadError> {
        if has(element, "grace") {
            self.graces += 1;
            self.first_small.get_or_insert(self.report.line(element));
            return Ok(());
        }
        let read = self.note_length(element)?;
        let length = read.unwrap_or_else(|near| near);
        let at = if has(element, "chord") { self.last } else { self.now };
        if has(element, "cue") {
            self.cues += 1;
            self.first_small.get_or_insert(self.report.line(element));
        } else if read.is_ok() && ReadTap::is_one(element) {
            self.taps.extend(ReadTap::read(element, at, length, self.report));
        } else if read.is_ok() {
            let note = note::read(element, at, length, self.attributes, self.report)?;
            self.notes.extend(note);
        }
        if !has(element, "chord") {
            self.last = self.now;
            self.advance(length);
        }
        Ok(())
    }

    fn advance(&mut self, length: Ticks) {
        self.now += length;
        self.furthest = self.furthest.max(self.now);
    }

    /// How long a note is; `Err` holds how far time goes on where its length can't be kept.
    fn note_length(&mut self, note: Node<'_, '_>) -> Result<Result<Ticks, Ticks>, ReadError> {
        let value = note_value(note);
        let Some(duration) = child(note, "duration") else {
            if value.is_none() {
                let message = "a note says neither how long it lasts nor its value; it is not kept";
                self.report.say(Severity::Fault, note, message);
            }
            return Ok(value.ok_or(Ticks::ZERO));
        };
        let near = match self.length_of(duration)? {
            Length::Exact(ticks) => return Ok(Ok(ticks.max(Ticks::ZERO))),
            Length::Near(near) => near,
        };
        // One division is as exact as the file can be.
        let division = match length(Decimal::ONE, self.attributes.divisions) {
            Some(Length::Exact(ticks) | Length::Near(ticks)) => ticks.max(Ticks::new(1)),
            None => Ticks::new(1),
        };
        if let Some(value) = value.filter(|v| (v.count() - near.count()).abs() <= division.count()) {
            return Ok(Ok(value));
        }
        let message = "a note's length is no fraction of a beat that can be written; the note is not kept";
        self.report.say(Severity::Loss, note, message);
        Ok(Err(near.max(Ticks::ZERO)))
    }

    /// The duration inside a `backup` or `forward`.
    fn duration(&mut self, element: Node<'_, '_>) -> Result<Option<Ticks>, ReadError> {
        let Some(duration) = child(element, "duration") else {
            return Ok(None);
        };
        Ok(Some(match self.length_of(duration)? {
            Length::Exact(ticks) => ticks,
            Length::Near(ticks) => {
                let message = "a gap's length is no fraction of a beat that can be written; it is rounded";
                self.report.say(Severity::Loss, element, message);
                ticks
            }
        }))
    }

    fn length_of(&self, duration: Node<'_, '_>) -> Result<Length, ReadError> {
        Decimal::parse(text(duration))
            .and_then(|decimal| length(decimal, self.attributes.divisions))
            .ok_or_else(|| self.report.absurd("a duration", text(duration), duration))
    }

    /// When a symbol or a direction holds: where reading stands, moved by its offset.
    fn offset(&self, element: Node<'_, '_>) -> Result<Ticks, ReadError> {
        let Some(offset) = child(element, "offset").filter(|_| child_text(element, "offset").is_some())
        else {
            return Ok(self.now);
        };
        let (Length::Exact(ticks) | Length::Near(ticks)) = self.length_of(offset)?;
        Ok(self.now + ticks)
    }

    fn finish(mut self) -> ReadBar {
        self.say_small_notes();
        self.bar.length = match self.furthest {
            Ticks::ZERO => self.bar.metre.bar(),
            furthest => furthest,
        };
        self.cut_at_bar_line();
        let taps = taps::in_order(std::mem::take(&mut self.taps), self.bar.length);
        ReadBar { bar: self.bar, notes: self.notes, chords: self.chords, tempi: self.directions.tempi, taps }
    }

    fn say_small_notes(&mut self) {
        use crate::diagnostic::Whereabouts::Bar as InBar;
        let kinds = [(self.graces, "grace note"), (self.cues, "cue note")];
        for (count, name) in kinds.into_iter().filter(|(count, _)| *count > 0) {
            let message = match count {
                1 => format!("a {name} is not kept: it is no melody note"),
                _ => format!("{count} {name}s are not kept: they are no melody notes"),
            };
            let place = InBar(self.bar.number.clone());
            self.report.push(Severity::Loss, place, self.first_small, message);
        }
    }

    /// A note of a chord may be written longer than the bar goes on.
    fn cut_at_bar_line(&mut self) {
        use crate::diagnostic::Whereabouts::Bar as InBar;
        let end = self.bar.length;
        for note in self.notes.iter_mut().filter(|note| note.at + note.length > end) {
            note.length = end - note.at;
            let message = "a note that lasts beyond its bar is cut at the bar line";
            self.report.push(Severity::Fault, InBar(self.bar.number.clone()), Some(note.line), message);
        }
        self.notes.retain(|note| note.length > Ticks::ZERO);
    }
}
