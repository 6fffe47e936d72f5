//! Gathers the demands of a tune under a plan.
//!
//! The accompaniment is plain: at every chord change and at every bar start in which a chord holds, the bass and
//! chord tones are struck and ring on; between, the melody goes alone.

use std::collections::BTreeSet;

use super::moment::{Accompaniment, Demand, MelodyDemand};
use crate::grip::BassChoice;
use crate::harmony::{Chord, ChordSymbol, ToneSet};
use crate::plan::{Lock, Plan};
use crate::time::Ticks;
use crate::tune::Tune;

/// The time before the first moment, in milliseconds: as long as one likes.
const BEFORE_THE_FIRST: i64 = 5_000;

/// The demands of every moment in written order. The tune is the one that sounds: already transposed.
pub fn demands(tune: &Tune, plan: &Plan) -> Vec<Demand> {
    let strokes = strokes(tune, plan);
    let times: BTreeSet<Ticks> =
        strokes.iter().copied().chain(tune.melody().iter().map(|note| note.at)).collect();
    let times: Vec<Ticks> = times.into_iter().collect();
    let mut all: Vec<Demand> = Vec::with_capacity(times.len());
    let mut rings_until = Ticks::ZERO;
    for (index, &at) in times.iter().enumerate() {
        let next = times.get(index + 1).copied().unwrap_or_else(|| tune.end());
        let lock = plan.locks.at(at);
        let struck = strokes.contains(&at);
        if struck {
            rings_until = ring_end(tune, &strokes, at);
        }
        all.push(Demand {
            at,
            length: next - at,
            milliseconds: all.last().map_or(BEFORE_THE_FIRST, |d| tune.tempo_at(d.at).milliseconds(d.length)),
            melody: melody(tune, at),
            accompaniment: struck.then(|| accompaniment(tune, at, lock)),
            rings_until,
            lock,
        });
    }
    all
}

/// When the accompaniment is struck.
fn strokes(tune: &Tune, plan: &Plan) -> BTreeSet<Ticks> {
    let sounds = |at: Ticks| tune.chord_at(at).and_then(ChordSymbol::chord).is_some();
    let written = tune.chords().iter().map(|c| c.at).chain(tune.bars().iter().map(|b| b.start));
    let moments = |at: &Ticks| *at >= Ticks::ZERO && *at < tune.end();
    let locked = plan.locks.iter().filter(|(_, lock)| is_stroke(lock)).map(|(at, _)| at).filter(moments);
    written.filter(|at| sounds(*at)).chain(locked).collect()
}

/// Whether a lock strikes more than the melody.
fn is_stroke(lock: &Lock) -> bool {
    lock.bass.is_some() || lock.grip.is_some_and(|grip| grip.len() > 1)
}

/// Until when an accompaniment rings that is struck at a time: until the next stroke, until a bar line where playing
/// may go on or come from elsewhere, until no chord holds any more, or to the end.
fn ring_end(tune: &Tune, strokes: &BTreeSet<Ticks>, at: Ticks) -> Ticks {
    use std::ops::Bound::{Excluded, Unbounded};
    let stroke = strokes.range((Excluded(at), Unbounded)).next().copied();
    let silence = tune.chords().iter().find(|c| c.at > at && c.symbol == ChordSymbol::NoChord).map(|c| c.at);
    let bars = &tune.bars()[tune.bar_index(at)..];
    let seam = bars
        .iter()
        .zip(bars.iter().skip(1))
        .find(|(bar, next)| bar.leaves() || next.is_entered())
        .map(|(bar, _)| bar.end());
    [stroke, silence, seam].into_iter().flatten().fold(tune.end(), Ticks::min)
}

fn melody(tune: &Tune, at: Ticks) -> MelodyDemand {
    let index = tune.melody().partition_point(|note| note.at <= at);
    match index.checked_sub(1).map(|note| (note, &tune.melody()[note])) {
        Some((note, begins)) if begins.at == at => MelodyDemand::Begins { note, pitch: begins.pitch() },
        Some((_, sounds)) if sounds.end() > at => MelodyDemand::SoundsOn { pitch: sounds.pitch() },
        _ => MelodyDemand::Rest,
    }
}

fn accompaniment(tune: &Tune, at: Ticks, lock: Lock) -> Accompaniment {
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    Accompaniment {
        bass: lock.bass.or_else(|| chord.map(|c| BassChoice::Class(c.bass_class()))).unwrap_or_default(),
        tones: chord.map_or(ToneSet::EMPTY, Chord::tones),
        guide_tones: chord.map_or(ToneSet::EMPTY, Chord::guide_tones),
    }
}
