//! What a search has worked out already: tunes say the same thing again and again.

use std::sync::Arc;

use super::candidates::Strokes;
use super::crowd::Transitions;
use super::desk::Desks;
use super::layer::{Key, Layer, State};
use super::weighing::Weighing;
pub(super) use crate::grip::Pace;
use crate::grip::moves::haste;
use crate::grip::{Departures, HandAt, HoldingOn, Reach};
use crate::watch::Watch;

/// Everything that depends on the reach alone, worked out once for all moments and passes.
pub(super) struct Known {
    pub(super) reach: Reach,
    pub(super) strokes: Strokes,
    pub(super) paces: Paces,
    /// The hands of the moment that was left last.
    pub(super) departures: Departures,
    /// Those of the moment that was gathered last, which mostly are set out from next.
    lately: Vec<HandAt>,
    desks: Desks,
}

impl Known {
    /// Nothing known yet.
    pub(super) fn new(reach: &Reach) -> Self {
        Self {
            reach: reach.clone(),
            strokes: Strokes::default(),
            paces: Paces::default(),
            departures: Departures::default(),
            lately: Vec::new(),
            desks: Desks::default(),
        }
    }

    /// Gets ready to gather what follows these states, with as much time for the move.
    pub(super) fn set_out<'a>(
        &'a mut self,
        weighing: Weighing,
        before: &[State],
        milliseconds: i64,
        watch: &'a dyn Watch,
    ) -> (&'a Reach, &'a mut Strokes, Layer<'a>) {
        let Self { reach, strokes, paces, departures, lately, desks } = self;
        let known = lately.iter().map(Some).chain(std::iter::repeat(None));
        departures.set_out(before.iter().zip(known).map(|(state, known)| {
            let known = known.filter(|hand| state.key.is_held_by(hand));
            known.copied().unwrap_or_else(|| state.key.hand(reach))
        }));
        let layer = Layer::new(weighing, paces.of(reach, milliseconds), departures, desks, lately, watch);
        (reach, strokes, layer)
    }

    /// How much was looked at so far.
    pub(super) const fn transitions(&self) -> Transitions {
        self.desks.transitions
    }

    /// What a move costs that has so many milliseconds.
    pub(super) fn moved(&mut self, milliseconds: i64, from: &Key, to: &Key) -> i32 {
        let pace = self.paces.of(&self.reach, milliseconds);
        pace.total(&from.hand(&self.reach), &to.hand(&self.reach))
    }
}

/// The paces of the moments so far; there are no more than steps of haste.
#[derive(Default)]
pub(super) struct Paces {
    known: Vec<(i32, Pace)>,
    /// What holding on may save at a pace, as far as it has been asked for.
    holding_on: Vec<(i32, Option<Arc<HoldingOn>>)>,
}

impl Paces {
    /// The pace of a move that has so many milliseconds.
    pub(super) fn of(&mut self, reach: &Reach, milliseconds: i64) -> &Pace {
        let haste = haste(milliseconds);
        let index = self.known.iter().position(|(known, _)| *known == haste).unwrap_or_else(|| {
            self.known.push((haste, Pace::new(reach, milliseconds)));
            self.known.len() - 1
        });
        &self.known[index].1
    }

    /// What holding on may save in a move that has so many milliseconds; none where that can't be bounded.
    pub(super) fn holding_on(&mut self, reach: &Reach, milliseconds: i64) -> Option<Arc<HoldingOn>> {
        let haste = haste(milliseconds);
        let index = self.holding_on.iter().position(|(known, _)| *known == haste).unwrap_or_else(|| {
            let bounds = HoldingOn::at(reach, self.of(reach, milliseconds));
            self.holding_on.push((haste, bounds.map(Arc::new)));
            self.holding_on.len() - 1
        });
        self.holding_on[index].1.clone()
    }
}
