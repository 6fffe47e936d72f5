//! The easiest routes through a piece, cut where no hand can go on.

use std::ops::Range;

use handspan_core::demand::{WrittenDemand, WrittenNote};
use handspan_core::grip::{Grip, Hold, Reach, StringSet};
use handspan_core::neck::{Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::plan::Aim;
use handspan_core::route::{Step, easiest_written, written_grips};
use handspan_core::watch::Unwatched;

use super::piece::Piece;
use crate::fault::Fault;

/// What was found for a piece.
pub(crate) struct Routes {
    /// What every onset demands.
    pub(super) demands: Vec<WrittenDemand>,
    /// A step for every onset that lies in a route.
    pub(super) steps: Vec<Option<Step>>,
    /// The first onset of every route.
    pub(super) begins: Vec<usize>,
}

impl Routes {
    /// The easiest routes when every onset is struck as `notes` say, leaving out the onsets without a grip.
    pub(super) fn find(
        reach: &Reach,
        piece: &Piece,
        notes: &[Vec<WrittenNote>],
        with_grip: &[bool],
    ) -> Result<Self, Fault> {
        let demand = |(onset, struck): (&super::piece::Onset, &Vec<WrittenNote>)| WrittenDemand {
            milliseconds: onset.milliseconds,
            struck: struck.clone(),
            sounding_on: onset.sounding_on.clone(),
        };
        let demands: Vec<WrittenDemand> = piece.onsets.iter().zip(notes).map(demand).collect();
        let mut steps = Vec::with_capacity(demands.len());
        let mut begins = Vec::new();
        for run in with_grip.chunk_by(|a, b| a == b) {
            let first = steps.len();
            if !run[0] {
                steps.resize(first + run.len(), None);
                continue;
            }
            let found =
                easiest_written(reach, &demands[first..first + run.len()], Aim::LeastTotal, &Unwatched)
                    .map_err(|at| Fault::Impasse {
                        piece: piece.name.clone(),
                        bar: piece.onsets[first + at.demand].bar,
                    })?;
            for passage in found.unwrap_or_default() {
                begins.push(steps.len());
                steps.extend(passage.steps.into_iter().map(Some));
            }
        }
        Ok(Self { demands, steps, begins })
    }

    /// The onsets of every route.
    pub(super) fn ranges(&self) -> impl Iterator<Item = Range<usize>> {
        let ends = self.begins.iter().skip(1).copied().chain([self.steps.len()]);
        self.begins.iter().zip(ends).map(|(begin, end)| {
            let steps = &self.steps[*begin..end];
            *begin..begin + steps.iter().take_while(|step| step.is_some()).count()
        })
    }

    /// How often a route ends before the piece does and another begins.
    pub(super) fn cuts(&self) -> usize {
        self.begins.len().saturating_sub(1)
    }

    /// The step before an onset, where it lies in a route.
    pub(crate) fn before(&self, onset: usize) -> Option<&Step> {
        self.steps[..onset].last()?.as_ref()
    }
}

/// Whether a hand can hold these notes, as they are marked.
pub(crate) fn has_grip(reach: &Reach, notes: &[WrittenNote]) -> bool {
    let mut any = false;
    written_grips(reach, &Grip::SILENT, notes, |_| any = true);
    any
}

/// How a pitch is held among some strings of a grip.
pub(super) fn held(
    reach: &Reach,
    grip: &Grip,
    among: StringSet,
    pitch: Pitch,
) -> Option<(StringIndex, Hold)> {
    grip.only(among).holds().find(|(string, hold)| {
        reach.instrument().sounding(Place { string: *string, fret: hold.fret }) == Some(pitch)
    })
}

/// Whether the route sounds everything that an onset strikes, and keeps what sounds on as it was held before.
pub(super) fn is_kept(reach: &Reach, piece: &Piece, routes: &Routes, index: usize) -> bool {
    let Some(step) = &routes.steps[index] else { return false };
    let onset = &piece.onsets[index];
    let strikes = |note: &WrittenNote| held(reach, &step.grip, step.struck, note.pitch).is_some();
    let keeps = |pitch: &Pitch| {
        let before = routes.before(index).map(|before| before.grip);
        let held_before = before.and_then(|grip| held(reach, &grip, StringSet::ALL, *pitch));
        held_before.is_some_and(|(string, hold)| step.grip.hold(string) == Some(hold))
    };
    onset.struck.iter().all(strikes) && onset.sounding_on.iter().all(keeps)
}
