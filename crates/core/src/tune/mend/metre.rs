//! Another metre: the bar lines are drawn anew, and everything keeps its time.
//!
//! Notes may sound over the new lines. Between two lines where playing may go on or come from elsewhere the new bars
//! have to come out even, or a repeat would begin in the middle of a bar; only where the metre ends may the last bar
//! come out short, and then it is filled up with a rest. Bars that are shorter than their metre, pickups above all,
//! stay short.

use super::bars::{count_anew, run_end};
use super::{MOST_BARS, MendFault};
use crate::time::{Metre, Ticks};
use crate::tune::bar::Bar;
use crate::tune::tune::{Tune, TuneParts};

/// The bars of a tune with new lines, and what moves.
#[derive(Debug)]
pub(super) struct Rebarred {
    bars: Vec<Bar>,
    /// Where the new metre ends, in the old times.
    until: Ticks,
    /// How much later everything comes that begins there or after it.
    later: Ticks,
}

impl Rebarred {
    /// The bars from `from` on in another metre, up to where it changes next.
    pub(super) fn new(tune: &Tune, from: usize, metre: Metre) -> Result<Self, MendFault> {
        let old = tune.bars();
        if from >= old.len() {
            return Err(MendFault::NoBar);
        }
        let end = run_end(old, from, |bar| bar.metre);
        let run = &old[from..end];
        let until = run.last().map_or(Ticks::ZERO, Bar::end);
        if old[from].metre == metre {
            return Ok(Self { bars: old.to_vec(), until, later: Ticks::ZERO });
        }
        let mut bars = old[..from].to_vec();
        let stretches: Vec<&[Bar]> = run.chunk_by(|bar, next| !is_seam(bar, next)).collect();
        for (index, stretch) in stretches.iter().enumerate() {
            let is_last = index + 1 == stretches.len();
            bars.extend(redrawn(stretch, metre, is_last)?);
            if bars.len() + old.len() - end > MOST_BARS {
                return Err(MendFault::TooManyBars);
            }
        }
        let length: Ticks = bars[from..].iter().fold(Ticks::ZERO, |sum, bar| sum + bar.length);
        let later = length - (until - old[from].start);
        let crosses = |at: Ticks, end: Ticks| at < until && end > until;
        if later > Ticks::ZERO && super::lines::spans(tune).any(|span| crosses(span.start, span.end)) {
            return Err(MendFault::OverTheLine(old[end - 1].number.clone()));
        }
        bars.extend_from_slice(&old[end..]);
        count_anew(old, bars.iter_mut());
        Ok(Self { bars, until, later })
    }

    /// When something happens that happened at a time before.
    pub(super) fn carried(&self, at: Ticks) -> Ticks {
        if at < self.until { at } else { at + self.later }
    }

    /// The parts of the tune in the new bars.
    pub(super) fn parts(self, tune: &Tune) -> TuneParts {
        let mut parts = tune.clone().into_parts();
        let carry = |at: &mut Ticks| *at = self.carried(*at);
        parts.melody.iter_mut().for_each(|note| carry(&mut note.at));
        parts.lines.iter_mut().for_each(|note| carry(&mut note.at));
        parts.chords.iter_mut().for_each(|chord| carry(&mut chord.at));
        parts.tempi.iter_mut().for_each(|mark| carry(&mut mark.at));
        if let Some(written_out) = &mut parts.written_out {
            written_out.notes.iter_mut().for_each(|note| carry(&mut note.at));
            written_out.marks.iter_mut().for_each(|mark| carry(&mut mark.at));
            written_out.taps.iter_mut().for_each(|tap| carry(&mut tap.at));
        }
        parts.bars = self.bars;
        parts
    }
}

/// Whether a bar line has to stay where it is: playing may leave there, come from elsewhere, or an ending stops.
fn is_seam(bar: &Bar, next: &Bar) -> bool {
    bar.leaves() || bar.ending_stops || next.is_entered()
}

const fn is_short(bar: &Bar) -> bool {
    bar.length.count() < bar.metre.bar().count()
}

/// The lengths of the new bars of a stretch, its pickup first.
fn lengths(stretch: &[Bar], metre: Metre, is_last: bool) -> Result<Vec<Ticks>, MendFault> {
    let (Some(first), Some(last)) = (stretch.first(), stretch.last()) else {
        return Ok(Vec::new());
    };
    let full = metre.bar();
    // A pickup longer than the new bar is full bars behind a shorter pickup: the first full bar keeps its beginning.
    let pickup = if is_short(first) { Ticks::new(first.length.count() % full.count()) } else { Ticks::ZERO };
    let mut lengths = Vec::new();
    let mut left = last.end() - first.start;
    if pickup > Ticks::ZERO {
        lengths.push(pickup);
        left -= pickup;
    }
    let whole = left.count() / full.count();
    if whole > MOST_BARS as i64 {
        return Err(MendFault::TooManyBars);
    }
    lengths.extend((0..whole).map(|_| full));
    let over = left - full * whole;
    if over > Ticks::ZERO {
        lengths.push(match (is_short(last), is_last) {
            (true, _) => over,
            (false, true) => full,
            (false, false) => return Err(MendFault::CutInTwo { bar: last.number.clone(), metre }),
        });
    }
    Ok(lengths)
}

/// A stretch with new lines; what stands at its first and last line stays there.
fn redrawn(stretch: &[Bar], metre: Metre, is_last: bool) -> Result<Vec<Bar>, MendFault> {
    let lengths = lengths(stretch, metre, is_last)?;
    let mut at = stretch.first().map_or(Ticks::ZERO, |bar| bar.start);
    let mut bars: Vec<Bar> = Vec::with_capacity(lengths.len());
    let mut within = 0;
    for length in lengths {
        let holds = stretch.partition_point(|bar| bar.start <= at).saturating_sub(1);
        let old = &stretch[holds];
        within = if old.start == at { 0 } else { within + 1 };
        let number = if within == 0 { old.number.clone() } else { format!("{}.{within}", old.number) };
        let mut bar = Bar::plain(number, length, metre, old.key);
        bar.start = at;
        at += length;
        let begin = stretch.iter().filter(|old| (bar.start..at).contains(&old.start));
        let sections: Vec<&str> = begin.filter_map(|old| old.section.as_deref()).collect();
        bar.section = (!sections.is_empty()).then(|| sections.join(", "));
        bars.push(bar);
    }
    if let (Some(bar), Some(old)) = (bars.first_mut(), stretch.first()) {
        bar.repeat_start = old.repeat_start;
        bar.ending.clone_from(&old.ending);
        (bar.segno, bar.coda) = (old.segno, old.coda);
    }
    if let (Some(bar), Some(old)) = (bars.last_mut(), stretch.last()) {
        (bar.repeat_end, bar.ending_stops) = (old.repeat_end, old.ending_stops);
        (bar.to_coda, bar.fine, bar.jump) = (old.to_coda, old.fine, old.jump);
    }
    Ok(bars)
}
