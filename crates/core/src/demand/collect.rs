//! Gathers the demands of a tune under a plan.
//!
//! The accompaniment is plain: at every chord change and at every bar start in which a chord holds, the bass and
//! chord tones are struck and ring on; between, the melody goes alone, and with it what is written of a bass line and of
//! hooks. Where a note of the bass line begins, it is the bass of the stroke; where the line rests, the chord has its own.

use std::collections::BTreeSet;

use super::lines::{LineDemand, LineDemands, lines};
use super::moment::{Accompaniment, Demand, MelodyDemand};
use crate::grip::BassChoice;
use crate::harmony::{Chord, ChordSymbol, ToneSet};
use crate::pitch::Pitch;
use crate::plan::{Lock, Plan};
use crate::time::Ticks;
use crate::tune::{MelodyNote, Tune};

/// The time before the first moment, in milliseconds: as long as one likes.
const BEFORE_THE_FIRST: i64 = 5_000;

/// The demands of every moment in written order. The tune is the one that sounds: already transposed.
pub fn demands(tune: &Tune, plan: &Plan) -> Vec<Demand> {
    let strokes = strokes(tune, plan);
    let notes = tune.melody().iter().map(|note| note.at).chain(tune.lines().iter().map(|note| note.at));
    let times: BTreeSet<Ticks> = strokes.iter().copied().chain(notes).collect();
    let times: Vec<Ticks> = times.into_iter().collect();
    let mut all: Vec<Demand> = Vec::with_capacity(times.len());
    let mut rings_until = Ticks::ZERO;
    for (index, &at) in times.iter().enumerate() {
        let next = times.get(index + 1).copied().unwrap_or_else(|| tune.end());
        let lock = plan.locks.at(at);
        let struck = strokes.contains(&at);
        let lines =
            lines(tune, at, &all.last().map_or(LineDemands::SILENT, |before| before.lines)).under(lock);
        if struck {
            rings_until = ring_end(tune, &strokes, at);
        }
        all.push(Demand {
            at,
            length: next - at,
            milliseconds: all.last().map_or(BEFORE_THE_FIRST, |d| tune.tempo_at(d.at).milliseconds(d.length)),
            melody: melody(tune, at),
            lines,
            accompaniment: struck.then(|| accompaniment(tune, at, lock, lines.bass)),
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
    let locked = plan.locks.iter().filter(|(at, lock)| is_stroke(tune, plan, *at, lock));
    let locked = locked.map(|(at, _)| at).filter(moments);
    written.filter(|at| sounds(*at)).chain(locked).collect()
}

/// Whether a lock strikes more than melody and lines.
fn is_stroke(tune: &Tune, plan: &Plan, at: Ticks, lock: &Lock) -> bool {
    let Some(grip) = lock.grip else { return lock.bass.is_some() };
    let mut written: Vec<Pitch> = lines(tune, at, &LineDemands::SILENT).begin().collect();
    if written.is_empty() {
        return lock.bass.is_some() || grip.len() > 1;
    }
    written.extend(tune.melody_at(at).filter(|note| note.at == at).map(MelodyNote::pitch));
    let mut sounds = grip.holds().filter_map(|(string, hold)| hold.sounds(&plan.instrument, string));
    lock.bass.is_some()
        || sounds.any(|pitch| {
            let same = written.iter().position(|other| *other == pitch);
            same.map(|index| written.swap_remove(index)).is_none()
        })
}

/// Until when an accompaniment rings that is struck at a time: until the next stroke, until a bar line where playing
/// may go on or come from elsewhere, until no chord holds any more, or to the end.
fn ring_end(tune: &Tune, strokes: &BTreeSet<Ticks>, at: Ticks) -> Ticks {
    use std::ops::Bound::{Excluded, Unbounded};
    let stroke = strokes.range((Excluded(at), Unbounded)).next().copied();
    let silence = tune.chords().iter().find(|c| c.at > at && c.symbol == ChordSymbol::NoChord).map(|c| c.at);
    [stroke, silence, tune.seam_after(at)].into_iter().flatten().fold(tune.end(), Ticks::min)
}

fn melody(tune: &Tune, at: Ticks) -> MelodyDemand {
    let index = tune.melody().partition_point(|note| note.at <= at);
    match index.checked_sub(1).map(|note| (note, &tune.melody()[note])) {
        Some((note, begins)) if begins.at == at => MelodyDemand::Begins { note, pitch: begins.pitch() },
        Some((_, sounds)) if sounds.end() > at => MelodyDemand::SoundsOn { pitch: sounds.pitch() },
        _ => MelodyDemand::Rest,
    }
}

fn accompaniment(tune: &Tune, at: Ticks, lock: Lock, line: LineDemand) -> Accompaniment {
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    Accompaniment {
        // A locked bass that is another than the line's has ended the line; otherwise the line says it more exactly.
        bass: line
            .begins()
            .map(BassChoice::Exact)
            .or(lock.bass)
            .or_else(|| chord.map(|c| BassChoice::Class(c.bass_class())))
            .unwrap_or_default(),
        tones: chord.map_or(ToneSet::EMPTY, Chord::tones),
        guide_tones: chord.map_or(ToneSet::EMPTY, Chord::guide_tones),
    }
}
