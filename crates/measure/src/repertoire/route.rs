//! The easiest route through a piece.

use handspan_core::demand::{WrittenDemand, WrittenNote};
use handspan_core::grip::{Grip, Hold, Reach, StringSet};
use handspan_core::neck::StringIndex;
use handspan_core::pitch::Pitch;
use handspan_core::plan::Aim;
use handspan_core::route::{Step, easiest_written, written_grips};
use handspan_core::watch::Unwatched;
use itertools::Itertools as _;

use super::piece::Piece;
use crate::fault::Fault;

/// What was found for a piece.
pub(crate) struct PieceRoute {
    /// What was asked at every onset.
    pub(super) demands: Vec<WrittenDemand>,
    /// A step for every onset.
    pub(super) steps: Vec<Step>,
}

impl PieceRoute {
    /// The easiest route when every onset is struck as `notes` say.
    pub(super) fn find(reach: &Reach, piece: &Piece, notes: &[Vec<WrittenNote>]) -> Result<Self, Fault> {
        let demands: Vec<WrittenDemand> = piece
            .demands()
            .zip(notes)
            .map(|(demand, struck)| WrittenDemand { struck: playable(reach, struck), ..demand })
            .collect();
        let found = easiest_written(reach, &demands, Aim::LeastTotal, &Unwatched);
        let route = found
            .map_err(|at| Fault::Impasse { piece: piece.name.clone(), bar: piece.onsets[at.demand].bar })?;
        Ok(Self { demands, steps: route.map(|route| route.steps).unwrap_or_default() })
    }

    /// The onsets at which something is let go that should sound on.
    pub(super) fn cuts(&self, reach: &Reach) -> Vec<usize> {
        let lets_go = |index: &usize| {
            let (before, after) = (self.before(*index).map(|step| step.grip), self.steps[*index].grip);
            self.demands[*index].sounding_on.iter().any(|note| {
                let was = before.and_then(|before| held(reach, &before, StringSet::ALL, note.pitch));
                was.is_some_and(|(string, hold)| after.hold(string) != Some(hold))
            })
        };
        (0..self.steps.len()).filter(lets_go).collect()
    }

    /// The step before an onset.
    pub(crate) fn before(&self, onset: usize) -> Option<&Step> {
        self.steps[..onset].last()
    }
}

/// As many of these notes as a hand can hold: all of them but at very few onsets.
fn playable(reach: &Reach, notes: &[WrittenNote]) -> Vec<WrittenNote> {
    let fewer = (0..=notes.len()).rev().flat_map(|count| notes.iter().copied().combinations(count));
    fewer.into_iter().find(|notes| has_grip(reach, notes)).unwrap_or_default()
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
    grip.only(among).holds().find(|(string, hold)| hold.sounds(reach.instrument(), *string) == Some(pitch))
}

/// Whether the route strikes everything that an onset strikes, and holds everything else as it did before.
pub(super) fn is_played(reach: &Reach, piece: &Piece, route: &PieceRoute, index: usize) -> bool {
    let (before, step) = (route.before(index).map(|step| step.grip), &route.steps[index]);
    let strikes = |note: &WrittenNote| held(reach, &step.grip, step.struck, note.pitch).is_some();
    let on = step.grip.strings().without(step.struck);
    let holds_on = |string| before.is_some_and(|before| before.hold(string) == step.grip.hold(string));
    piece.onsets[index].struck.iter().all(strikes) && on.iter().all(holds_on)
}

/// Whether everything that should sound on at an onset is held as it was before, even what had to be let go earlier.
pub(super) fn is_held_on(reach: &Reach, piece: &Piece, route: &PieceRoute, index: usize) -> bool {
    let (before, after) = (route.before(index).map(|step| step.grip), route.steps[index].grip);
    piece.onsets[index].sounding_on.iter().all(|pitch| {
        let was = before.and_then(|before| held(reach, &before, StringSet::ALL, *pitch));
        was.is_some_and(|(string, hold)| after.hold(string) == Some(hold))
    })
}
