//! Which notes of a bass line and of hooks are not kept, or not to their end, and why.

use super::arrangement::{GiveWay, GiveWayReason};
use super::give_ways::why_not;
use super::score::ScoreNote;
use crate::demand::{Accompaniment, Demand, MelodyDemand, Part};
use crate::grip::{BassChoice, Grip, Reach};
use crate::harmony::ToneSet;
use crate::route::{Route, Step, candidates};
use crate::tune::{Line, LineNote, Tune};

impl From<Line> for Part {
    fn from(line: Line) -> Self {
        match line {
            Line::Bass => Self::Bass,
            Line::Hook => Self::Hook,
        }
    }
}

/// A note that is not struck is named where it begins, one that is let go where it ends.
pub(super) fn line_give_ways(
    reach: &Reach,
    tune: &Tune,
    demands: &[Demand],
    route: &Route,
    notes: &[ScoreNote],
) -> Vec<GiveWay> {
    let give_way = |note: &LineNote| {
        let part = Part::from(note.line);
        let kept = notes.iter().find(|n| n.at == note.at && n.part == part && n.pitch() == note.pitch());
        let (at, reason) = match kept {
            Some(kept) if kept.length < note.length && tune.seam_after(note.at) == Some(kept.end()) => {
                (kept.end(), GiveWayReason::CutAtSeam)
            }
            Some(kept) if kept.length < note.length => (kept.end(), GiveWayReason::LetGo),
            Some(_) => return None,
            None => {
                let index = demands.iter().position(|demand| demand.at == note.at)?;
                (note.at, why_lost(reach, &demands[index], &route.steps[index], note))
            }
        };
        Some(GiveWay { at, bar_beat: tune.bar_beat(at), part, reason })
    };
    tune.lines().iter().filter_map(give_way).collect()
}

/// Why a note is not struck. Beside the melody alone it may well be in reach.
fn why_lost(reach: &Reach, demand: &Demand, step: &Step, note: &LineNote) -> GiveWayReason {
    let pitch = note.pitch();
    let overruled = note.line == Line::Bass && demand.lock.bass.is_some_and(|bass| !bass.admits(pitch));
    if overruled || demand.lock.grip.is_some() {
        return GiveWayReason::LockedOtherwise;
    }
    let alone =
        Accompaniment { bass: BassChoice::Exact(pitch), tones: ToneSet::EMPTY, guide_tones: ToneSet::EMPTY };
    let sounds_on = step.melody.filter(|_| matches!(demand.melody, MelodyDemand::SoundsOn { .. }));
    let held = sounds_on.map_or(Grip::SILENT, |melody| step.grip.only([melody].into_iter().collect()));
    let count = 1 + usize::from(demand.melody.pitch().is_some());
    why_not(reach, demand, &candidates::wish(demand, alone, &held, reach), count)
}
