//! Browsing the grips of the moment where the player stands.

use std::sync::Arc;

use handspan_core::arrangement::wish_at;
use handspan_core::grip::moves::USUAL_MILLISECONDS;
use handspan_core::grip::{Grip, GripEffort, MoveEffort, Order, Previous, RankedGrip, ranked};

use super::Session;
use crate::command::Browse;
use crate::job::{Job, Outcome};

/// The ranked grips of a moment and the one that is looked at.
#[derive(Debug, Default)]
pub struct Browsing {
    job: Job<Vec<RankedGrip>>,
    grips: Vec<RankedGrip>,
    order: Order,
    row: Option<usize>,
}

impl Browsing {
    /// The grips, best first.
    pub fn grips(&self) -> &[RankedGrip] {
        &self.grips
    }

    /// How they are ranked.
    pub const fn order(&self) -> Order {
        self.order
    }

    /// The row that is looked at; none when the route's own grip is.
    pub const fn row(&self) -> Option<usize> {
        self.row
    }

    /// Whether the list belongs to the moment shown; it lags behind for as long as it is being ranked.
    pub const fn is_current(&self) -> bool {
        !self.job.is_running()
    }

    pub(super) fn poll(&mut self) -> bool {
        match self.job.poll() {
            None => return false,
            Some(Outcome::Answer(grips)) => self.grips = grips,
            Some(Outcome::Lost) => self.grips.clear(),
        }
        true
    }
}

/// A grip as the neck and its explanation show it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Shown {
    /// The grip.
    pub grip: Grip,
    /// What it costs.
    pub effort: GripEffort,
    /// What it costs to get there, where something came before.
    pub moved: Option<MoveEffort>,
    /// Whether it is looked at and not the route's.
    pub is_preview: bool,
}

impl Shown {
    /// Everything together.
    pub fn total(&self) -> i32 {
        self.effort.total().points() + self.moved.map_or(0, |m| m.total().points())
    }
}

impl Session {
    pub(super) fn rank(&mut self) {
        self.browsing.row = None;
        let Some(arrangement) = self.arrangement.clone() else {
            return;
        };
        let (work, moment, order) = (Arc::clone(self.history.work()), self.moment, self.browsing.order);
        let time = self.moment().map_or(USUAL_MILLISECONDS, |moment| moment.milliseconds);
        let before = self.moment_before().map(|m| Previous { grip: m.grip, milliseconds: time });
        self.browsing.job.start(&self.lane, "rank grips", move |_| {
            let instrument = &arrangement.score.instrument;
            wish_at(&work, &arrangement, moment)
                .map_or_else(Vec::new, |wish| ranked(instrument, &work.plan.hand, &wish, before, order))
        });
    }

    pub(super) fn browse(&mut self, browse: Browse) {
        if let Browse::By(order) = browse {
            self.browsing.order = order;
            self.rank();
            return;
        }
        let last = self.browsing.grips.len().checked_sub(1);
        let from = self.browsing.row.or_else(|| self.route_row());
        self.browsing.row = match browse {
            Browse::Back | Browse::By(_) => None,
            Browse::Row(row) => Some(row),
            Browse::Down => Some(from.map_or(0, |row| row + 1)),
            Browse::Up => Some(from.map_or(0, |row| row.saturating_sub(1))),
        }
        .and_then(|row| Some(row.min(last?)))
        .filter(|row| Some(*row) != self.route_row());
    }

    /// The row of the grip that the route has here.
    pub fn route_row(&self) -> Option<usize> {
        let grip = self.moment()?.grip;
        self.browsing.grips.iter().position(|r| r.grip == grip)
    }

    /// The grip to show: the one looked at, or the route's.
    pub fn shown(&self) -> Option<Shown> {
        let moment = self.moment()?;
        let looked_at = self.browsing.row.filter(|_| self.browsing.is_current());
        let preview = looked_at.and_then(|row| self.browsing.grips.get(row));
        Some(match preview {
            Some(ranked) => {
                Shown { grip: ranked.grip, effort: ranked.effort, moved: ranked.moved, is_preview: true }
            }
            None => Shown {
                grip: moment.grip,
                effort: moment.effort,
                moved: self.moment_before().map(|_| moment.moved),
                is_preview: false,
            },
        })
    }
}
