//! Joins tied notes into strokes.
//!
//! Notes are joined where they stand side by side and are also played one after the other. A tie across a repeat, an
//! ending or a jump joins notes that are written apart: both are marked instead.

use std::collections::{BTreeMap, BTreeSet};

use handspan_core::spelling::SpelledPitch;
use handspan_core::time::Ticks;
use handspan_core::tune::{Bar, playing_order};

use super::note::{ReadNote, Technique};
use super::part::ReadBar;
use super::report::Report;
use crate::diagnostic::{Severity, Whereabouts};

/// One stroke, its ties joined; times are since the beginning of the tune.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Stroke {
    pub(super) at: Ticks,
    pub(super) length: Ticks,
    pub(super) written: SpelledPitch,
    pub(super) voice: String,
    pub(super) technique: Technique,
    pub(super) tied_in: bool,
    pub(super) tied_out: bool,
    /// The index of the bar it begins in.
    pub(super) bar: usize,
    pub(super) line: u32,
}

impl Stroke {
    pub(super) fn end(&self) -> Ticks {
        self.at + self.length
    }
}

/// What two notes must share to be tied.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Thread {
    pitch: i32,
    voice: String,
    string: Option<String>,
}

impl Thread {
    fn of(note: &ReadNote) -> Self {
        let spelling = note.written.spelling;
        let above_c = i32::from(spelling.step.semitones()) + i32::from(spelling.alter);
        Self {
            pitch: 12 * i32::from(note.written.octave) + above_c,
            voice: note.voice.clone(),
            string: note.technique.string.clone(),
        }
    }
}

/// Joins the notes of all bars; strokes are in order of time, then as written.
pub(super) fn join(read: &[ReadBar], report: &mut Report) -> Vec<Stroke> {
    let bars: Vec<Bar> = read.iter().map(|b| b.bar.clone()).collect();
    let mut joiner = Joiner::new(&bars);
    for (index, bar) in read.iter().enumerate() {
        let mut notes: Vec<&ReadNote> = bar.notes.iter().collect();
        notes.sort_by_key(|note| note.at);
        for note in notes {
            joiner.add(index, bar.bar.start, note);
        }
    }
    joiner.tie_across_seams(report);
    let mut strokes = joiner.strokes;
    strokes.sort_by_key(|stroke| stroke.at);
    strokes
}

struct Joiner<'b> {
    bars: &'b [Bar],
    /// Bars that are played before a bar, by its index; none stands for the beginning.
    before: BTreeMap<usize, BTreeSet<Option<usize>>>,
    strokes: Vec<Stroke>,
    /// Notes that a tie leaves, by their end and thread: the stroke each belongs to.
    open: BTreeMap<(Ticks, Thread), usize>,
    /// Strokes that begin with the end of a tie which nothing beside them has.
    loose: Vec<(usize, Thread)>,
}

impl<'b> Joiner<'b> {
    fn new(bars: &'b [Bar]) -> Self {
        let order = playing_order(bars);
        let mut before: BTreeMap<usize, BTreeSet<Option<usize>>> = BTreeMap::new();
        let earlier = std::iter::once(None).chain(order.iter().copied().map(Some));
        for (index, earlier) in order.iter().zip(earlier) {
            before.entry(*index).or_default().insert(earlier);
        }
        Self { bars, before, strokes: Vec::new(), open: BTreeMap::new(), loose: Vec::new() }
    }

    fn add(&mut self, bar: usize, start: Ticks, note: &ReadNote) {
        let at = start + note.at;
        let thread = Thread::of(note);
        let beside = self.open.get(&(at, thread.clone())).copied();
        let joined = beside.filter(|_| note.tie_stop && self.is_reached_from_beside(bar, note));
        let stroke = joined.unwrap_or(self.strokes.len());
        if joined.is_some() {
            self.strokes[stroke].length += note.length;
        } else {
            self.strokes.push(Stroke {
                at,
                length: note.length,
                written: note.written,
                voice: note.voice.clone(),
                technique: note.technique.clone(),
                tied_in: false,
                tied_out: false,
                bar,
                line: note.line,
            });
            if note.tie_stop {
                self.loose.push((stroke, thread.clone()));
            }
        }
        if note.tie_start {
            self.open.insert((at + note.length, thread), stroke);
        }
    }

    /// Whether a note follows, in playing order too, what is written before it. Bars that are never played keep their
    /// written order.
    fn is_reached_from_beside(&self, bar: usize, note: &ReadNote) -> bool {
        let written_before = bar.checked_sub(1);
        note.at > Ticks::ZERO || self.before.get(&bar).is_none_or(|before| before.contains(&written_before))
    }

    fn tie_across_seams(&mut self, report: &mut Report) {
        for (stroke, thread) in std::mem::take(&mut self.loose) {
            let (bar, at) = (self.strokes[stroke].bar, self.strokes[stroke].at);
            let before = self.before.get(&bar).filter(|_| at == self.bars[bar].start);
            let partners: Option<Vec<usize>> = before.and_then(|before| {
                let partner = |index: &Option<usize>| {
                    let end = self.bars[(*index)?].end();
                    self.open.get(&(end, thread.clone())).copied()
                };
                before.iter().map(partner).collect()
            });
            let Some(partners) = partners else {
                let message = "a tie ends at a note with nothing before it to be tied to; the note is struck";
                let place = Whereabouts::Bar(self.bars[bar].number.clone());
                report.push(Severity::Loss, place, Some(self.strokes[stroke].line), message);
                continue;
            };
            self.strokes[stroke].tied_in = true;
            for partner in partners {
                // A stroke that goes on beside the seam is held there; only one that ends at it is tied out.
                let ends = |index: &Option<usize>| index.map(|i| self.bars[i].end());
                let end = self.strokes[partner].end();
                if self.before[&bar].iter().any(|index| ends(index) == Some(end)) {
                    self.strokes[partner].tied_out = true;
                }
            }
        }
    }
}
