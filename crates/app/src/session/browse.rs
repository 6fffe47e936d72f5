//! Browsing the grips of the moment where the player stands.

use std::sync::Arc;

use handspan_core::arrangement::choices_at;
use handspan_core::grip::moves::USUAL_MILLISECONDS;
use handspan_core::grip::{
    Filter, Grip, GripEffort, Listed, Listing, MoveEffort, Order, Previous, RankedGrip, Reach,
};
use handspan_core::harmony::{Chord, ToneSet};

use super::Session;
use crate::command::Browse;
use crate::job::{Job, Outcome};

/// The ranked grips of a moment and the one that is looked at.
#[derive(Debug, Default)]
pub struct Browsing {
    job: Job<Listed>,
    list: Listed,
    /// How often the list has been made anew, so that what is drawn of it can be kept until then.
    revision: u64,
    order: Order,
    filter: Filter,
    row: Option<usize>,
    /// The row of the grip that the route has here.
    in_route: Option<usize>,
}

impl Browsing {
    /// The grips, best first.
    pub fn grips(&self) -> &[RankedGrip] {
        &self.list.grips
    }

    /// How many rows there would be without a filter.
    pub const fn of(&self) -> usize {
        self.list.of
    }

    /// Changes with every new list.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// How they are ranked.
    pub const fn order(&self) -> Order {
        self.order
    }

    /// What is left out.
    pub const fn filter(&self) -> &Filter {
        &self.filter
    }

    /// The row that is looked at; none when the route's own grip is.
    pub const fn row(&self) -> Option<usize> {
        self.row
    }

    /// Looks at no row any more.
    pub(super) const fn put_back(&mut self) {
        self.row = None;
    }

    /// Whether the list belongs to the moment shown; it lags behind for as long as it is being ranked.
    pub const fn is_current(&self) -> bool {
        !self.job.is_running()
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
        self.browsing.in_route = None;
        self.judge_own_again();
        let Some(arrangement) = self.arrangement.clone() else {
            return;
        };
        let (work, moment) = (Arc::clone(self.history.work()), self.moment);
        let before = self.previous();
        let listing = Listing {
            order: self.browsing.order,
            filter: self.browsing.filter.clone(),
            guide_tones: self.guide_tones(),
            also: self.moment().map(|moment| moment.grip).filter(|grip| !grip.is_empty()),
        };
        self.browsing.job.start(&self.lane, "rank grips", move |_| {
            choices_at(&work, &arrangement, moment, before, &listing)
        });
    }

    pub(super) fn poll_browsing(&mut self) -> bool {
        match self.browsing.job.poll() {
            None => return false,
            Some(Outcome::Answer(list)) => self.browsing.list = list,
            Some(Outcome::Lost) => self.browsing.list = Listed::default(),
        }
        self.browsing.revision += 1;
        let grip = self.moment().map(|moment| moment.grip);
        self.browsing.in_route =
            grip.and_then(|grip| self.browsing.list.grips.iter().position(|row| row.grip == grip));
        true
    }

    pub(super) fn browse(&mut self, browse: Browse) {
        match browse {
            Browse::By(order) => self.browsing.order = order,
            Browse::Only(filter) => self.browsing.filter = filter,
            Browse::Everything => self.browsing.filter = Filter::default(),
            _ => return self.look_at(&browse),
        }
        self.rank();
    }

    fn look_at(&mut self, browse: &Browse) {
        // To look at a grip of the list is to leave one's own and those of other routes.
        self.own = None;
        self.look_at_no_route();
        let last = self.browsing.grips().len().checked_sub(1);
        let from = self.browsing.row.or_else(|| self.route_row());
        self.browsing.row = match browse {
            Browse::Row(row) => Some(*row),
            Browse::Down => Some(from.map_or(0, |row| row + 1)),
            Browse::Up => Some(from.map_or(0, |row| row.saturating_sub(1))),
            Browse::Back | Browse::By(_) | Browse::Only(_) | Browse::Everything => None,
        }
        .and_then(|row| Some(row.min(last?)))
        .filter(|row| Some(*row) != self.route_row());
    }

    /// The row of the grip that the route has here.
    pub const fn route_row(&self) -> Option<usize> {
        self.browsing.in_route
    }

    /// Whether the route's own grip has a row although the filter leaves it out.
    pub fn route_fails_filter(&self) -> bool {
        let plan = &self.work().plan;
        let reach = Reach::new(&plan.instrument, &plan.hand);
        let grip = self.route_row().and_then(|row| self.browsing.grips().get(row)).map(|row| row.grip);
        grip.is_some_and(|grip| !self.browsing.filter.admits(&reach, self.guide_tones(), &grip))
    }

    fn guide_tones(&self) -> ToneSet {
        self.chord_here().map_or(ToneSet::EMPTY, Chord::guide_tones)
    }

    /// The chord in force where the player stands.
    pub fn chord_here(&self) -> Option<&Chord> {
        self.tune().chord_at(self.playhead())?.chord()
    }

    /// What the hand holds before this moment, and how long it has for the move.
    pub(super) fn previous(&self) -> Option<Previous> {
        let milliseconds = self.moment().map_or(USUAL_MILLISECONDS, |moment| moment.milliseconds);
        let moments = &self.arrangement()?.moments[..self.moment];
        let stood = moments.iter().rev().find_map(|moment| moment.grip.position());
        moments.last().map(|before| Previous { grip: before.grip, stood, milliseconds })
    }

    /// The grip to show: the player's own, the one looked at, or the route's.
    pub fn shown(&self) -> Option<Shown> {
        let moment = self.moment()?;
        if let Some(own) = &self.own {
            return Some(own.shown);
        }
        if let Some(there) = self.moment_of_route_looked_at() {
            let moved = self.moment_before().map(|_| there.moved);
            return Some(Shown { grip: there.grip, effort: there.effort, moved, is_preview: true });
        }
        let looked_at = self.browsing.row.filter(|_| self.browsing.is_current());
        let preview = looked_at.and_then(|row| self.browsing.grips().get(row));
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
