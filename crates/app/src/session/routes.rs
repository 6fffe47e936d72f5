//! Several really different routes, to be compared and taken.

use std::ops::Range;
use std::sync::Arc;

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{Arrangement, Edit, Impossible, Moment, Work, different_routes};
use handspan_core::time::Ticks;

use super::Session;
use super::locks::struck_grips;
use super::notice::Notice;
use crate::job::{Job, Outcome};

/// How many routes are looked for.
pub const ROUTES_COMPARED: usize = 3;

/// The routes that were found, and where.
#[derive(Debug, Default)]
pub struct Routes {
    job: Job<Result<Vec<Arrangement>, Impossible>>,
    found: Vec<Arrangement>,
    /// The passage that was asked for; none for the whole tune.
    asked: Option<Range<Ticks>>,
    /// The work that they were asked for.
    of: Option<Arc<Work>>,
    looked_at: Option<usize>,
    /// How often others have been found or put away.
    revision: u64,
}

impl Routes {
    /// The routes, the best first.
    pub fn found(&self) -> &[Arrangement] {
        &self.found
    }

    /// The passage in which they differ; none for the whole tune.
    pub const fn passage(&self) -> Option<&Range<Ticks>> {
        self.asked.as_ref()
    }

    /// The one that the neck shows.
    pub const fn looked_at(&self) -> Option<usize> {
        self.looked_at
    }

    /// Changes whenever other routes are there.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// How far the search is, where one runs: from 0 to 1, or unknown.
    pub fn progress(&self) -> Option<Option<f32>> {
        self.job.is_running().then(|| self.job.progress())
    }
}

impl Session {
    /// The routes that are compared.
    pub const fn routes(&self) -> &Routes {
        &self.routes
    }

    /// Whether the routes were found for the work as it is now.
    pub fn routes_are_current(&self) -> bool {
        self.routes.of.as_ref().is_some_and(|work| Arc::ptr_eq(work, self.history.work()))
    }

    /// The route that the neck shows: the one looked at, or the arrangement's own.
    pub fn route_shown(&self) -> Option<&Arrangement> {
        let looked_at = self.routes.looked_at.and_then(|index| self.routes.found.get(index));
        looked_at.or_else(|| self.arrangement())
    }

    pub(super) fn compare_routes(&mut self) {
        let Some(current) = self.arrangement.clone() else {
            return;
        };
        let (work, passage) = (Arc::clone(self.history.work()), self.passage.clone());
        self.routes.asked.clone_from(&passage);
        self.routes.of = Some(Arc::clone(&work));
        self.routes.looked_at = None;
        self.routes.revision += 1;
        self.routes.job.start(&self.lane, "compare routes", move |watch| {
            different_routes(&work, &current, passage, ROUTES_COMPARED, watch)
        });
    }

    pub(super) fn poll_routes(&mut self) -> bool {
        let Some(outcome) = self.routes.job.poll() else {
            return false;
        };
        match outcome {
            Outcome::Answer(Ok(found)) => {
                self.routes.found = found;
                self.routes.looked_at = None;
                self.routes.revision += 1;
            }
            Outcome::Answer(Err(reason)) => self.notice = Some(Notice::failed(reason.to_string())),
            Outcome::Lost => {
                self.notice = Some(Notice::failed(
                    "The comparison ended by a fault of this program; your work is unharmed",
                ));
            }
        }
        true
    }

    pub(super) const fn look_at_no_route(&mut self) {
        self.routes.looked_at = None;
    }

    /// The moment where the player stands, in the route looked at.
    pub(super) fn moment_of_route_looked_at(&self) -> Option<&Moment> {
        let route = self.routes.found.get(self.routes.looked_at?)?;
        let at = self.moment()?.at;
        route.moments.get(route.moment_index(at)).filter(|moment| moment.at == at)
    }

    pub(super) fn look_at_route(&mut self, index: usize) {
        self.own = None;
        self.browsing.put_back();
        let other = self.routes.looked_at != Some(index) && index < self.routes.found.len();
        self.routes.looked_at = other.then_some(index);
    }

    /// Locks the grips of a route in the passage that is selected, or wherever it was looked for.
    pub(super) fn take_route(&mut self, index: usize) {
        let Some(route) = self.routes.found.get(index) else {
            return;
        };
        let whole = || Ticks::ZERO..self.tune().end();
        let asked = self.routes.asked.clone();
        let passage = asked.or_else(|| self.passage.clone()).unwrap_or_else(whole);
        let grips = struck_grips(route, &passage);
        let effort = route.excerpt(&passage).effort;
        let told = format!(
            "Route {} is locked in {}: effort {effort}; undo brings the old one back",
            index + 1,
            bars(self.tune(), &passage)
        );
        self.routes.looked_at = None;
        if self.edit(&Edit::TakePassage { passage, grips }) {
            self.notice = Some(Notice::told(told));
        }
    }

    pub(super) fn put_routes_away(&mut self) {
        self.routes.job.stop();
        self.routes.found.clear();
        self.routes.looked_at = None;
        self.routes.revision += 1;
    }

    pub(super) fn stop_comparing(&mut self) -> bool {
        let running = self.routes.job.is_running();
        self.routes.job.stop();
        running
    }
}
