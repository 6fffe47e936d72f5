//! Bars added and taken away; what stands in a bar moves along with it.

use std::ops::Range;

use super::{MOST_BARS, MendFault};
use crate::time::Ticks;
use crate::tune::bar::Bar;
use crate::tune::line::LineNote;
use crate::tune::note::{ChordAt, MelodyNote, TempoAt};
use crate::tune::tune::{Tune, TuneParts};
use crate::tune::written_out::{GivenNote, PrintedMarks, Tap};

/// The bars of a tune after a change, each with the index that it had before; none for a new one.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Layout {
    bars: Vec<(Option<usize>, Bar)>,
}

impl Layout {
    fn new(bars: Vec<(Option<usize>, Bar)>) -> Self {
        let mut layout = Self { bars };
        let mut start = Ticks::ZERO;
        for (_, bar) in &mut layout.bars {
            bar.start = start;
            start += bar.length;
        }
        layout
    }

    fn bar(&self, old: usize) -> Option<&Bar> {
        self.bars.iter().find(|(index, _)| *index == Some(old)).map(|(_, bar)| bar)
    }
}

/// The last bar, from a bar on, up to where something about it changes.
pub(super) fn run_end<T: PartialEq>(bars: &[Bar], from: usize, what: impl Fn(&Bar) -> T) -> usize {
    let holds = what(&bars[from]);
    bars[from..].iter().position(|bar| what(bar) != holds).map_or(bars.len(), |after| from + after)
}

/// The bars with silent ones behind a bar.
pub(super) fn with_more(tune: &Tune, after: usize, count: usize) -> Result<Layout, MendFault> {
    let old = tune.bars();
    let before = old.get(after).ok_or(MendFault::NoBar)?;
    if count > MOST_BARS.saturating_sub(old.len()) {
        return Err(MendFault::TooManyBars);
    }
    let mut bars: Vec<(Option<usize>, Bar)> =
        old.iter().cloned().enumerate().map(|(i, b)| (Some(i), b)).collect();
    let more = (1..=count).map(|n| {
        let number = format!("{}.{n}", before.number);
        (None, Bar::plain(number, before.metre.bar(), before.metre, before.key))
    });
    let behind = bars.split_off(after + 1);
    bars.extend(more.chain(behind));
    count_anew(old, bars.iter_mut().map(|(_, bar)| bar));
    Ok(Layout::new(bars))
}

/// The bars without some.
pub(super) fn without(tune: &Tune, gone: &Range<usize>) -> Result<Layout, MendFault> {
    let old = tune.bars();
    if gone.start >= gone.end || gone.end > old.len() {
        return Err(MendFault::NoBar);
    }
    if gone.len() == old.len() {
        return Err(MendFault::NoBarLeft);
    }
    let kept = old.iter().cloned().enumerate().filter(|(index, _)| !gone.contains(index));
    let mut bars: Vec<(Option<usize>, Bar)> = kept.map(|(i, b)| (Some(i), b)).collect();
    count_anew(old, bars.iter_mut().map(|(_, bar)| bar));
    Ok(Layout::new(bars))
}

/// Counts the bars anew where they were counted one by one before.
pub(super) fn count_anew<'a>(old: &[Bar], bars: impl Iterator<Item = &'a mut Bar>) {
    let Some(first) = old.first().and_then(|bar| bar.number.parse::<usize>().ok()) else {
        return;
    };
    if old.iter().enumerate().all(|(index, bar)| bar.number == (first + index).to_string()) {
        for (index, bar) in bars.enumerate() {
            bar.number = (first + index).to_string();
        }
    }
}

/// When something happens in the new bars that happened at a time of the old ones.
pub(super) fn carried(tune: &Tune, layout: &Layout, at: Ticks) -> Option<Ticks> {
    let index = tune.bar_index(at);
    let since = at - tune.bars().get(index)?.start;
    let bar = layout.bar(index)?;
    (since < bar.length).then(|| bar.start + since)
}

/// The parts of the tune in the new bars. Where bars have gone, the chord and the tempo that held behind them hold on.
pub(super) fn relaid(tune: &Tune, layout: &Layout) -> TuneParts {
    let carry = |at| carried(tune, layout, at);
    let mut parts = tune.clone().into_parts();
    parts.chords =
        tune.chords().iter().filter_map(|c| Some(ChordAt { at: carry(c.at)?, ..c.clone() })).collect();
    parts.tempi = tune.tempi().iter().filter_map(|t| Some(TempoAt { at: carry(t.at)?, ..*t })).collect();
    let span = |at, end| relaid_span(tune, layout, at, end);
    let note = |note: &MelodyNote| {
        let (at, length) = span(note.at, note.end())?;
        Some(MelodyNote { at, length, ..*note })
    };
    parts.melody = tune.melody().iter().filter_map(note).collect();
    let note = |note: &LineNote| {
        let (at, length) = span(note.at, note.end())?;
        Some(LineNote { at, length, ..*note })
    };
    parts.lines = tune.lines().iter().filter_map(note).collect();
    if let Some(written_out) = &mut parts.written_out {
        let note = |note: &GivenNote| {
            let (at, length) = span(note.at, note.end())?;
            Some(GivenNote { at, length, ..*note })
        };
        written_out.notes = written_out.notes.iter().filter_map(note).collect();
        let mark = |mark: &PrintedMarks| Some(PrintedMarks { at: carry(mark.at)?, ..*mark });
        written_out.marks = written_out.marks.iter().filter_map(mark).collect();
        let tap = |tap: &Tap| span(tap.at, tap.end()).map(|(at, length)| Tap { at, length });
        written_out.taps = written_out.taps.iter().filter_map(tap).collect();
    }
    parts.bars = layout.bars.iter().map(|(_, bar)| bar.clone()).collect();
    for pair in layout.bars.windows(2) {
        if let [(Some(before), _), (Some(behind), new)] = pair
            && before + 1 < *behind
        {
            hold_on(tune, &mut parts, tune.bars()[*behind].start, new.start);
        }
    }
    if let Some((Some(first), _)) = layout.bars.first().filter(|(old, _)| *old > Some(0)) {
        hold_on(tune, &mut parts, tune.bars()[*first].start, Ticks::ZERO);
    }
    parts
}

/// When a note begins in the new bars and how long it sounds: it ends where the first bar has gone that it sounded into.
fn relaid_span(tune: &Tune, layout: &Layout, begins: Ticks, ends: Ticks) -> Option<(Ticks, Ticks)> {
    let at = carried(tune, layout, begins)?;
    let bars = tune.bars().iter().enumerate().skip(tune.bar_index(begins) + 1);
    let gone = bars.take_while(|(_, bar)| bar.start < ends).find(|(index, _)| layout.bar(*index).is_none());
    let end = gone.map_or(ends, |(_, bar)| bar.start);
    Some((at, end - begins))
}

/// Writes chord and tempo where they would have got lost with the bars before.
fn hold_on(tune: &Tune, parts: &mut TuneParts, from: Ticks, at: Ticks) {
    if let Some(symbol) = tune.chord_at(from).filter(|_| parts.chords.iter().all(|c| c.at != at)) {
        parts.chords.push(ChordAt { at, symbol: symbol.clone() });
    }
    let named = tune.tempi().iter().any(|t| t.at <= from);
    if named && parts.tempi.iter().all(|t| t.at != at) {
        parts.tempi.push(TempoAt { at, tempo: tune.tempo_at(from) });
    }
}
