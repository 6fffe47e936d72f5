//! One bar: its signs, then every voice of the staff, then every voice of the tablature.

use std::collections::BTreeSet;

use handspan_core::arrangement::Score;
use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, Ending, playing_order};

use super::events::{BarEvents, Content, Event, VoiceEvents};
use super::note::{self, NoteContext, Staff};
use super::voices::Chord;
use super::xml::Xml;
use super::{attributes, harmony, signs, taps};

/// Writes bars one after the other.
pub(super) struct BarWriter<'s> {
    score: &'s Score,
    voices: &'s [Vec<Chord>],
    divisions: i64,
    /// The numbered ending that is open.
    ending: Option<Ending>,
    /// What is added to a voice's number in the tablature.
    tablature_voices: usize,
    /// The bars that are also reached from elsewhere than from the bar before them.
    entered: BTreeSet<usize>,
}

impl<'s> BarWriter<'s> {
    pub(super) fn new(score: &'s Score, voices: &'s [Vec<Chord>], divisions: i64) -> Self {
        Self {
            score,
            voices,
            divisions,
            ending: None,
            tablature_voices: voices.len().max(4),
            entered: entered(score.tune.bars()),
        }
    }

    pub(super) fn write(&mut self, xml: &mut Xml, index: usize, events: &BarEvents) {
        let bar = &self.score.tune.bars()[index];
        if bar.ending.is_some() {
            self.ending.clone_from(&bar.ending);
        }
        let mut heading = vec![("number", bar.number.as_str())];
        if is_implicit(bar) {
            heading.push(("implicit", "yes"));
        }
        xml.element("measure", &heading, |xml| {
            signs::left_line(xml, bar);
            if index == 0 {
                attributes::write_first(xml, self.score, self.divisions);
            } else {
                attributes::write_changes(xml, self.score, index);
            }
            signs::at_beginning(xml, bar);
            self.write_voices(xml, index, events);
            let is_last = index + 1 == self.score.tune.bars().len();
            signs::right_line(xml, bar, self.ending.as_ref(), is_last);
        });
        if bar.ending_stops {
            self.ending = None;
        }
    }

    fn write_voices(&self, xml: &mut Xml, index: usize, events: &BarEvents) {
        let bar = &self.score.tune.bars()[index];
        let accidentals = note::accidentals(self.score, bar, &self.beginning_in(events));
        let mut now = bar.start;
        for staff in [Staff::Notes, Staff::Tablature] {
            for voice in &events.voices {
                let silent = voice.events.iter().all(|event| !event.is_chord());
                if staff == Staff::Tablature && silent && events.voices.len() > 1 {
                    continue;
                }
                self.go_back(xml, now - bar.start);
                now = self.write_voice(xml, staff, voice, index, &accidentals);
                if staff == Staff::Notes && voice.voice == 0 {
                    signs::at_end(xml, bar, &self.score.tune);
                }
            }
        }
        self.write_taps(xml, bar, now);
    }

    /// The taps that sound in a bar, as a voice of their own behind all others.
    fn write_taps(&self, xml: &mut Xml, bar: &Bar, mut now: Ticks) {
        let voice = (2 * self.tablature_voices + 1).to_string();
        for piece in taps::of_bar(self.score, bar) {
            self.go_back(xml, now - piece.at);
            if now < piece.at {
                xml.element("forward", &[], |xml| xml.text("duration", self.in_divisions(piece.at - now)));
            }
            taps::write(xml, &piece, &voice, self.in_divisions(piece.length));
            now = piece.at + piece.length;
        }
    }

    /// The chords that begin in a bar.
    fn beginning_in(&self, events: &BarEvents) -> Vec<&'s Chord> {
        let mut chords = Vec::new();
        for voice in &events.voices {
            for event in &voice.events {
                if let Content::Chord { chord, first: true, .. } = event.content {
                    chords.push(&self.voices[voice.voice][chord]);
                }
            }
        }
        chords
    }

    /// Writes one voice and gives the time it ends.
    fn write_voice(
        &self,
        xml: &mut Xml,
        staff: Staff,
        voice: &VoiceEvents,
        index: usize,
        accidentals: &BTreeSet<usize>,
    ) -> Ticks {
        let start = self.score.tune.bars()[index].start;
        let added = match staff {
            Staff::Notes => 0,
            Staff::Tablature => self.tablature_voices,
        };
        let context = NoteContext {
            score: self.score,
            staff,
            melody: voice.voice == 0,
            voice: (voice.voice + 1 + added).to_string(),
            divisions: self.divisions,
            accidentals,
            struck_again: self.entered.contains(&index).then_some(start),
        };
        let leads = staff == Staff::Notes && voice.voice == 0;
        let mut now = start;
        for event in &voice.events {
            if leads {
                self.write_marks(xml, event);
            }
            let hidden = staff == Staff::Tablature && event.content == Content::Rest;
            if hidden {
                continue;
            }
            self.go_on(xml, event.at - now, &context);
            match event.content {
                Content::Chord { chord, .. } => context.chord(xml, &self.voices[voice.voice][chord], event),
                Content::Rest | Content::BarRest => context.rest(xml, event),
            }
            now = event.at + event.length;
        }
        now
    }

    /// The chord symbols and tempi that fall into an event of the melody.
    fn write_marks(&self, xml: &mut Xml, event: &Event) {
        let falls_in = |at: Ticks| event.at <= at && at < event.at + event.length;
        let tune = &self.score.tune;
        for tempo in tune.tempi().iter().filter(|tempo| falls_in(tempo.at)) {
            let beat = tune.bars()[tune.bar_index(tempo.at)].metre.beat();
            signs::tempo(xml, tempo.tempo, beat, self.in_divisions(tempo.at - event.at));
        }
        for chord in tune.chords().iter().filter(|chord| falls_in(chord.at)) {
            harmony::write(xml, &chord.symbol, self.in_divisions(chord.at - event.at));
        }
    }

    const fn in_divisions(&self, length: Ticks) -> i64 {
        length.count() * self.divisions / Ticks::PER_QUARTER
    }

    fn go_back(&self, xml: &mut Xml, length: Ticks) {
        if length > Ticks::ZERO {
            xml.element("backup", &[], |xml| xml.text("duration", self.in_divisions(length)));
        }
    }

    fn go_on(&self, xml: &mut Xml, length: Ticks, context: &NoteContext<'_>) {
        if length > Ticks::ZERO {
            xml.element("forward", &[], |xml| {
                xml.text("duration", self.in_divisions(length));
                xml.text("voice", &context.voice);
                xml.text("staff", context.staff.number());
            });
        }
    }
}

/// The bars that playing also reaches from elsewhere than from the bar before them.
fn entered(bars: &[Bar]) -> BTreeSet<usize> {
    let order = playing_order(bars);
    let steps = order.windows(2).map(|step| (step[0], step[1]));
    steps.filter(|(from, to)| from + 1 != *to).map(|(_, to)| to).collect()
}

/// Whether a bar is not counted: a pickup, or one that its number sets apart.
fn is_implicit(bar: &Bar) -> bool {
    let pickup = bar.start == Ticks::ZERO && bar.length < bar.metre.bar();
    pickup || bar.number.parse::<u32>().ok().is_none_or(|number| number == 0)
}
