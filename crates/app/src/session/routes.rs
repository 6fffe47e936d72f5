//! Several really different routes, to be compared and taken.

use std::ops::Range;
use std::sync::Arc;

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{
    Arrangement, Edit, Impossible, Moment, Work, arrange, arrange_passage, different_routes,
};
use handspan_core::time::Ticks;
use handspan_core::watch::Watch;

use super::Session;
use super::locks::struck_grips;
use super::notice::Notice;
use crate::job::{Job, Outcome};

/// How many routes are looked for.
pub const ROUTES_COMPARED: usize = 3;

/// The routes that were found, and what they are looked at for.
#[derive(Debug, Default)]
pub struct Routes {
    job: Job<Result<Compared, Impossible>>,
    compared: Compared,
    /// Whether the first of those that are being looked for is there already.
    begun: bool,
    /// Whether the search was stopped before it knew whether there are more.
    stopped: bool,
    looked_at: Option<usize>,
    /// How often others have been found or put away.
    revision: u64,
}

/// Routes, where they differ, and the work that they were found for.
#[derive(Debug, Default)]
struct Compared {
    routes: Vec<Arrangement>,
    passage: Option<Range<Ticks>>,
    of: Option<Arc<Work>>,
}

/// How far the search for different routes is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Comparing {
    /// From 0 to 1, or unknown.
    pub progress: Option<f32>,
    /// Whether the first route is there already.
    pub first_is_there: bool,
}

impl Routes {
    /// The routes, the best first.
    pub fn found(&self) -> &[Arrangement] {
        &self.compared.routes
    }

    /// The passage in which they differ; none for the whole tune.
    pub const fn passage(&self) -> Option<&Range<Ticks>> {
        self.compared.passage.as_ref()
    }

    /// The one that the neck shows.
    pub const fn looked_at(&self) -> Option<usize> {
        self.looked_at
    }

    /// Changes whenever other routes are there.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether the search was stopped before it knew whether there are more.
    pub const fn were_stopped(&self) -> bool {
        self.stopped
    }

    /// How far the search is, where one runs.
    pub fn comparing(&self) -> Option<Comparing> {
        let comparing = || Comparing { progress: self.job.progress(), first_is_there: self.begun };
        self.job.is_running().then(comparing)
    }

    fn take(&mut self, compared: Compared) {
        self.compared = compared;
        self.looked_at = self.looked_at.filter(|index| *index < self.compared.routes.len());
        self.revision += 1;
    }
}

impl Session {
    /// The routes that are compared.
    pub const fn routes(&self) -> &Routes {
        &self.routes
    }

    /// Whether the routes were found for the work as it is now.
    pub fn routes_are_current(&self) -> bool {
        self.routes.compared.of.as_ref().is_some_and(|work| Arc::ptr_eq(work, self.history.work()))
    }

    /// The route that the neck shows: the one looked at, or the arrangement's own.
    pub fn route_shown(&self) -> Option<&Arrangement> {
        let looked_at = self.routes.looked_at.and_then(|index| self.routes.found().get(index));
        looked_at.or_else(|| self.arrangement())
    }

    pub(super) fn compare_routes(&mut self) {
        let Some(current) = self.arrangement.clone() else {
            return;
        };
        let (work, passage) = (Arc::clone(self.history.work()), self.passage.clone());
        self.show_routes();
        self.routes.begun = false;
        self.routes.stopped = false;
        self.routes.looked_at = None;
        self.routes.revision += 1;
        self.routes.job.start_in_parts(&self.lane, "compare routes", move |watch, tell| {
            let compared =
                |routes| Compared { routes, passage: passage.clone(), of: Some(Arc::clone(&work)) };
            // The first is shown at once; those that are different take longer to be found.
            tell(Ok(compared(vec![easiest(&work, &current, passage.as_ref(), watch)?])));
            different_routes(&work, &current, passage.clone(), ROUTES_COMPARED, watch).map(compared)
        });
    }

    pub(super) fn poll_routes(&mut self) -> bool {
        let part = self.routes.job.part();
        match self.routes.job.poll() {
            None => match part {
                Some(Ok(first)) => {
                    self.routes.begun = true;
                    self.routes.take(first);
                }
                Some(Err(_)) | None => return false,
            },
            Some(Outcome::Answer(Ok(all))) => self.routes.take(all),
            Some(Outcome::Answer(Err(reason))) => self.notice = Some(Notice::refused(reason.to_string())),
            Some(Outcome::Lost) => {
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
        let route = self.routes.found().get(self.routes.looked_at?)?;
        let at = self.moment()?.at;
        route.moments.get(route.moment_index(at)).filter(|moment| moment.at == at)
    }

    pub(super) fn look_at_route(&mut self, index: usize) {
        self.own = None;
        self.browsing.put_back();
        let other = self.routes.looked_at != Some(index) && index < self.routes.found().len();
        self.routes.looked_at = other.then_some(index);
    }

    /// Locks the grips of a route in the passage that is selected, or wherever it was looked for.
    pub(super) fn take_route(&mut self, index: usize) {
        let Some(route) = self.routes.found().get(index) else {
            return;
        };
        let whole = || Ticks::ZERO..self.tune().end();
        let asked = self.routes.compared.passage.clone();
        let passage = asked.or_else(|| self.passage.clone()).unwrap_or_else(whole);
        let grips = struck_grips(route, &passage);
        let effort = route.effort_through(&passage);
        let told = format!(
            "Route {} is locked in {}: effort {effort}; undo brings the old one back",
            index + 1,
            bars(self.tune(), &passage)
        );
        self.stop_comparing();
        self.routes.looked_at = None;
        if self.edit(&Edit::TakePassage { passage, grips }) {
            self.notice = Some(Notice::told(told));
        }
    }

    pub(super) fn put_routes_away(&mut self) {
        self.stop_comparing();
        self.routes.take(Compared::default());
    }

    /// Ends the search and keeps what it has found; gives whether there was one.
    pub(super) fn stop_comparing(&mut self) -> bool {
        let running = self.routes.job.is_running();
        if running {
            self.routes.job.stop();
            self.routes.stopped = true;
            self.routes.revision += 1;
        }
        running
    }
}

/// The easiest route through the passage, or the whole tune.
fn easiest(
    work: &Work,
    current: &Arrangement,
    passage: Option<&Range<Ticks>>,
    watch: &dyn Watch,
) -> Result<Arrangement, Impossible> {
    match passage {
        Some(passage) => arrange_passage(work, current, passage.start, passage.end, watch),
        None => arrange(work, watch),
    }
}
