//! Stand-in until the engine lands.
use super::{Arrangement, Moment, Score, Work};
use crate::grip::{BassChoice, Effort, ranking::{Order, VoicingWish, ranked}, Grip};
use crate::harmony::ToneSet;
use crate::time::Ticks;
use crate::watch::Watch;
use std::sync::Arc;
/// Impossible.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum Impossible {
    /// .
    #[error("the search was stopped")]
    Stopped,
}
/// Stand-in.
/// # Errors
/// Never.
pub fn arrange(work: &Work, _: &dyn Watch) -> Result<Arrangement, Impossible> {
    let mut moments: Vec<Moment> = Vec::new();
    for note in work.tune.melody() {
        let lock = work.plan.locks.at(note.at);
        let wish = wish(work, note.at);
        let all = ranked(&work.plan.instrument, &work.plan.hand, &wish, None, Order::Easiest);
        let mut best = all.iter().find(|r| lock.grip.is_none_or(|g| g == r.grip)).copied().unwrap_or(all[0]);
        let chord = work.tune.chords().iter().any(|c| c.at == note.at);
        if !chord && lock.grip.is_none() { let top = best.grip.holds().next(); best.grip = Grip::from_holds(top); }
        moments.push(Moment { at: note.at, length: note.length, grip: best.grip, struck: best.grip.strings(), effort: best.effort, moved: best.moved.unwrap_or_default() });
    }
    let effort = moments.iter().map(|m| m.effort.total() + m.moved.total()).sum::<Effort>();
    Ok(Arrangement { score: Score { tune: Arc::clone(&work.tune), instrument: work.plan.instrument.clone(), notes: Vec::new() }, moments, give_ways: Vec::new(), effort, proven: true })
}
/// Stand-in.
/// # Errors
/// Never.
pub fn arrange_passage(work: &Work, _: &Arrangement, _: Ticks, _: Ticks, watch: &dyn Watch) -> Result<Arrangement, Impossible> { arrange(work, watch) }
fn wish(work: &Work, at: Ticks) -> VoicingWish {
    VoicingWish { melody: work.tune.melody_at(at).map(|n| n.pitch()), bass: BassChoice::Free, tones: work.tune.chord_at(at).and_then(|c| c.chord()).map_or(ToneSet::ALL, |c| c.tones()), required: ToneSet::EMPTY, notes: 1..=4, held: Grip::SILENT, melody_string: None }
}
/// Stand-in.
pub fn wish_at(work: &Work, arrangement: &Arrangement, moment: usize) -> VoicingWish { wish(work, arrangement.moments[moment].at) }
