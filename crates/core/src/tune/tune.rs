//! The tune as a whole, kept consistent.

use thiserror::Error;

use super::bar::{Bar, BarBeat};
use super::line::{Line, LineNote};
use super::note::{ChordAt, MelodyNote, TempoAt};
use super::written_out::{GivenNote, Harmonic, WrittenOut};
use crate::harmony::{ChordSymbol, Key};
use crate::pitch::{Interval, Pitch};
use crate::spelling::{SpelledPitch, Spelling};
use crate::time::{Metre, Tempo, Ticks};

/// What a tune is made of, before it has been looked at.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct TuneParts {
    /// The title; may be empty.
    pub title: String,
    /// Who wrote it; may be empty.
    pub composer: String,
    /// The bars in written order; their starts are set from their lengths.
    pub bars: Vec<Bar>,
    /// The melody, ties joined.
    pub melody: Vec<MelodyNote>,
    /// Chord symbols.
    pub chords: Vec<ChordAt>,
    /// Tempi.
    pub tempi: Vec<TempoAt>,
    /// The notes of a written bass line and of hooks; none where the music is written out.
    pub lines: Vec<LineNote>,
    /// Every note below the melody, where the music is written out; none in a lead sheet.
    pub written_out: Option<WrittenOut>,
}

/// A tune: bars, a melody of one voice, chord symbols and tempi in written order.
///
/// Bars follow one another without gaps; notes, chords and tempi are in order of time and within the bars; no melody
/// note begins before the one before it has ended, and no note of a bass line or of hooks before the one before it in
/// its line. A tune that is being written may have no melody note yet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tune {
    parts: TuneParts,
}

/// Why parts are no tune.
#[derive(Clone, PartialEq, Eq, Debug, Error)]
pub enum TuneFault {
    /// There is nothing to play in.
    #[error("there are no bars")]
    NoBars,
    /// A bar of no length.
    #[error("bar {0} has no length")]
    EmptyBar(String),
    /// A note without length, or one outside MIDI.
    #[error("the melody note in {0} cannot sound")]
    BadNote(String),
    /// Two melody notes at once.
    #[error("two melody notes sound at once in {0}")]
    Overlap(String),
    /// A note of a line without length, or one outside MIDI.
    #[error("the note of the {} in {place} cannot sound", line.name())]
    BadLineNote {
        /// Its line.
        line: Line,
        /// Where.
        place: String,
    },
    /// Two notes of a line at once.
    #[error("two notes of the {} sound at once in {place}", line.name())]
    LineOverlap {
        /// The line.
        line: Line,
        /// Where.
        place: String,
    },
    /// Lines beside music that says every note already.
    #[error("in music that is written out, bass line and hooks stand among its notes")]
    LinesOfWrittenOut,
    /// Something begins after the last bar, or a note sounds beyond it.
    #[error("the tune goes on after its last bar")]
    BeyondEnd,
}

impl Tune {
    /// Puts parts in order and checks them.
    ///
    /// # Errors
    /// Names the first thing that makes them no tune.
    pub fn try_new(mut parts: TuneParts) -> Result<Self, TuneFault> {
        let mut start = Ticks::ZERO;
        for bar in &mut parts.bars {
            if bar.length <= Ticks::ZERO {
                return Err(TuneFault::EmptyBar(bar.number.clone()));
            }
            bar.start = start;
            start += bar.length;
        }
        parts.melody.sort_by_key(|n| n.at);
        parts.chords.sort_by_key(|c| c.at);
        parts.tempi.sort_by_key(|t| t.at);
        parts.lines.sort_by_key(|n| (n.at, n.line));
        if let Some(written_out) = &mut parts.written_out {
            written_out.notes.sort_by_key(|note| (note.at, note.pitch()));
            written_out.marks.sort_by_key(|mark| (mark.at, mark.pitch));
            written_out.taps.sort_by_key(|tap| tap.at);
        }
        let tune = Self { parts };
        tune.check(start)?;
        Ok(tune)
    }

    fn check(&self, end: Ticks) -> Result<(), TuneFault> {
        if self.bars().is_empty() {
            return Err(TuneFault::NoBars);
        }
        let sounds = |n: &MelodyNote| n.length > Ticks::ZERO && n.written.pitch().is_some();
        if let Some(note) = self.melody().iter().find(|n| !sounds(n)) {
            return Err(TuneFault::BadNote(self.bar_beat(note.at).to_string()));
        }
        if let Some(pair) = self.melody().windows(2).find(|pair| pair[0].end() > pair[1].at) {
            return Err(TuneFault::Overlap(self.bar_beat(pair[1].at).to_string()));
        }
        self.check_below(end)?;
        Line::ALL.into_iter().try_for_each(|line| self.check_line(line, end))?;
        let starts = self.chords().iter().map(|c| c.at).chain(self.tempi().iter().map(|t| t.at));
        let beyond = starts.into_iter().any(|at| at >= end || at < Ticks::ZERO);
        if beyond || self.melody().iter().any(|n| n.end() > end || n.at < Ticks::ZERO) {
            return Err(TuneFault::BeyondEnd);
        }
        Ok(())
    }

    /// What stands below the melody may lie anywhere and sound together, but it has to sound.
    fn check_below(&self, end: Ticks) -> Result<(), TuneFault> {
        let sounds = |n: &GivenNote| n.length > Ticks::ZERO && n.written.pitch().is_some();
        let taps = self.written_out().map_or(&[][..], |written_out| &written_out.taps);
        if let Some(tap) = taps.iter().find(|tap| tap.length <= Ticks::ZERO) {
            return Err(TuneFault::BadNote(self.bar_beat(tap.at).to_string()));
        }
        if let Some(pair) = taps.windows(2).find(|pair| pair[0].end() > pair[1].at) {
            return Err(TuneFault::Overlap(self.bar_beat(pair[1].at).to_string()));
        }
        if taps.iter().any(|tap| tap.at < Ticks::ZERO || tap.end() > end) {
            return Err(TuneFault::BeyondEnd);
        }
        match self.below_the_melody().iter().find(|n| !sounds(n)) {
            Some(note) => Err(TuneFault::BadNote(self.bar_beat(note.at).to_string())),
            None if self.below_the_melody().iter().any(|n| n.end() > end || n.at < Ticks::ZERO) => {
                Err(TuneFault::BeyondEnd)
            }
            None => Ok(()),
        }
    }

    /// A line may lie anywhere, but its notes sound one after another.
    fn check_line(&self, line: Line, end: Ticks) -> Result<(), TuneFault> {
        let notes: Vec<&LineNote> = self.lines().iter().filter(|n| n.line == line).collect();
        let place = |note: &LineNote| self.bar_beat(note.at).to_string();
        if !notes.is_empty() && self.written_out().is_some() {
            return Err(TuneFault::LinesOfWrittenOut);
        }
        if let Some(note) = notes.iter().find(|n| n.length <= Ticks::ZERO || n.written.pitch().is_none()) {
            return Err(TuneFault::BadLineNote { line, place: place(note) });
        }
        if let Some(pair) = notes.windows(2).find(|pair| pair[0].end() > pair[1].at) {
            return Err(TuneFault::LineOverlap { line, place: place(pair[1]) });
        }
        if notes.iter().any(|n| n.end() > end || n.at < Ticks::ZERO) {
            return Err(TuneFault::BeyondEnd);
        }
        Ok(())
    }

    /// The parts, to make another tune of them.
    pub fn into_parts(self) -> TuneParts {
        self.parts
    }

    /// The title; may be empty.
    pub fn title(&self) -> &str {
        &self.parts.title
    }

    /// Who wrote it; may be empty.
    pub fn composer(&self) -> &str {
        &self.parts.composer
    }

    /// The bars in written order.
    pub fn bars(&self) -> &[Bar] {
        &self.parts.bars
    }

    /// The melody in order of time.
    pub fn melody(&self) -> &[MelodyNote] {
        &self.parts.melody
    }

    /// The chord symbols in order of time.
    pub fn chords(&self) -> &[ChordAt] {
        &self.parts.chords
    }

    /// The tempi in order of time.
    pub fn tempi(&self) -> &[TempoAt] {
        &self.parts.tempi
    }

    /// The notes of a written bass line and of hooks, in order of time, the bass first; none in written-out music.
    pub fn lines(&self) -> &[LineNote] {
        &self.parts.lines
    }

    /// What is given besides the melody, where the music is written out.
    pub const fn written_out(&self) -> Option<&WrittenOut> {
        self.parts.written_out.as_ref()
    }

    /// The notes below the melody in order of time; none in a lead sheet.
    pub fn below_the_melody(&self) -> &[GivenNote] {
        self.written_out().map_or(&[], |written_out| &written_out.notes)
    }

    /// When the last bar ends.
    pub fn end(&self) -> Ticks {
        self.bars().last().map_or(Ticks::ZERO, Bar::end)
    }

    /// The index of the bar that holds a time; the last one from the end on.
    pub fn bar_index(&self, at: Ticks) -> usize {
        self.bars().partition_point(|bar| bar.start <= at).saturating_sub(1)
    }

    /// The next bar line after a time where playing may go on elsewhere or come from elsewhere; none up to the end.
    pub fn seam_after(&self, at: Ticks) -> Option<Ticks> {
        let bars = self.bars().get(self.bar_index(at)..)?;
        let mut lines = bars.iter().zip(bars.iter().skip(1));
        lines.find(|(bar, next)| bar.leaves() || next.is_entered()).map(|(bar, _)| bar.end())
    }

    /// A time as players say it.
    pub fn bar_beat(&self, at: Ticks) -> BarBeat {
        match self.bars().get(self.bar_index(at)) {
            Some(bar) => {
                // A pickup is counted from where its full bar would have begun.
                let missing =
                    if bar.start == Ticks::ZERO { bar.metre.bar() - bar.length } else { Ticks::ZERO };
                let since_bar = at - bar.start + missing.max(Ticks::ZERO);
                BarBeat { bar: bar.number.clone(), since_bar, beat_length: bar.metre.beat() }
            }
            None => BarBeat { bar: String::new(), since_bar: at, beat_length: Metre::COMMON.beat() },
        }
    }

    /// The chord symbol in force.
    pub fn chord_at(&self, at: Ticks) -> Option<&ChordSymbol> {
        let after = self.chords().partition_point(|c| c.at <= at);
        self.chords()[..after].last().map(|c| &c.symbol)
    }

    /// The tempo in force; [`Tempo::MODERATE`] where the tune names none.
    pub fn tempo_at(&self, at: Ticks) -> Tempo {
        let after = self.tempi().partition_point(|t| t.at <= at);
        self.tempi()[..after].last().map_or(Tempo::MODERATE, |t| t.tempo)
    }

    /// The melody note that begins or sounds at a time.
    pub fn melody_at(&self, at: Ticks) -> Option<&MelodyNote> {
        let after = self.melody().partition_point(|n| n.at <= at);
        self.melody()[..after].last().filter(|n| n.end() > at)
    }

    /// How a pitch is written at a time: as the tune itself writes it where it sounds then, else as the chord in force
    /// spells it, else by the key.
    pub fn spelled(&self, at: Ticks, pitch: Pitch) -> SpelledPitch {
        let melody = self.melody_at(at).map(|note| note.written);
        let lines = Line::ALL.into_iter().filter_map(|line| self.line_at(line, at)).map(|note| note.written);
        let below = self.below_the_melody().iter().filter(|note| note.at <= at && at < note.at + note.length);
        let written = melody.into_iter().chain(lines).chain(below.map(|note| note.written));
        let key = self.bars()[self.bar_index(at)].key;
        let by_key = || Spelling::of_class_in(pitch.class(), i32::from(key.fifths()));
        let chord = self.chord_at(at).and_then(ChordSymbol::chord);
        let by_chord = || chord.map_or_else(by_key, |chord| chord.spell(pitch.class(), key));
        let as_written = written.into_iter().find(|written| written.pitch() == Some(pitch));
        as_written.unwrap_or_else(|| SpelledPitch::new(pitch, by_chord()))
    }

    /// The note of a line that begins or sounds at a time.
    pub fn line_at(&self, line: Line, at: Ticks) -> Option<&LineNote> {
        let after = self.lines().partition_point(|n| n.at <= at);
        self.lines()[..after].iter().rfind(|n| n.line == line).filter(|n| n.end() > at)
    }

    /// The harmonic that a note of written-out music is asked to be.
    pub fn harmonic_at(&self, at: Ticks, pitch: Pitch) -> Option<Harmonic> {
        let marks = self.written_out().map_or(&[][..], |written_out| &written_out.marks);
        let from = marks.partition_point(|mark| mark.at < at);
        let here = marks[from..].iter().take_while(|mark| mark.at == at);
        here.into_iter().filter(|mark| mark.pitch == pitch).find_map(|mark| mark.harmonic)
    }

    /// The lowest and the highest melody note.
    pub fn melody_range(&self) -> (Pitch, Pitch) {
        let pitches = || self.melody().iter().map(MelodyNote::pitch);
        (pitches().min().unwrap_or(Pitch::new(0)), pitches().max().unwrap_or(Pitch::new(Pitch::MAX)))
    }

    /// The tune moved by an interval: melody, lines, chords and keys; none where a note would leave MIDI.
    ///
    /// Printed strings, fingers and nodes are given up: other pitches lie elsewhere.
    pub fn transposed(&self, interval: Interval) -> Option<Self> {
        let mut parts = self.parts.clone();
        let fifths_in = |bars: &[Bar], index: usize| {
            bars.get(index).map_or(Key::default(), |bar| bar.key).transposed(interval).1
        };
        for note in &mut parts.melody {
            note.written =
                note.written.transposed(interval, fifths_in(self.bars(), self.bar_index(note.at)))?;
        }
        for note in &mut parts.lines {
            note.written =
                note.written.transposed(interval, fifths_in(self.bars(), self.bar_index(note.at)))?;
        }
        if let Some(written_out) = &mut parts.written_out {
            for note in &mut written_out.notes {
                note.written =
                    note.written.transposed(interval, fifths_in(self.bars(), self.bar_index(note.at)))?;
            }
            let moved = written_out.marks.iter().filter_map(|mark| mark.moved(interval));
            written_out.marks = moved.collect();
        }
        for chord in &mut parts.chords {
            chord.symbol = chord.symbol.transposed(fifths_in(self.bars(), self.bar_index(chord.at)));
        }
        for bar in &mut parts.bars {
            bar.key = bar.key.transposed(interval).0;
        }
        Some(Self { parts })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pitch_is_written_as_the_tune_the_chord_or_the_key_has_it() {
        let spelled = |midi: u8, fifths| SpelledPitch::new(Pitch::new(midi), Spelling::from_fifths(fifths));
        let quarters = |count| Ticks::QUARTER * count;
        let note = |at, written| MelodyNote {
            at: quarters(at),
            length: quarters(4),
            written,
            tied_in: false,
            tied_out: false,
        };
        let bar =
            |number: &str| Bar::plain(number.to_owned(), Metre::COMMON.bar(), Metre::COMMON, Key::default());
        let parts = TuneParts {
            bars: vec![bar("1"), bar("2")],
            melody: vec![note(0, spelled(75, 9)), note(4, spelled(76, 4))],
            chords: vec![ChordAt { at: quarters(4), symbol: ChordSymbol::parse("E7").expect("a chord") }],
            ..TuneParts::default()
        };
        let tune = Tune::try_new(parts).expect("two bars are a tune");
        let names = |at: i64| [75, 56].map(|midi| tune.spelled(quarters(at), Pitch::new(midi)).to_string());
        // In C major a note above G is A flat, unless it is the third of E7.
        assert_eq!(names(0), ["D#5", "Ab3"]);
        assert_eq!(names(4), ["Eb5", "G#3"]);
    }
}
