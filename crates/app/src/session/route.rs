//! Arranging as a job, and what becomes of its answer.

use std::ops::Range;
use std::sync::{Arc, Mutex, MutexGuard};

use handspan_core::arrangement::edit::bars;
use handspan_core::arrangement::{Arrangement, Arranger, Edit, Impossible, Work, arrange_passage};
use handspan_core::grip::Effort;
use handspan_core::time::Ticks;

use super::Session;
use super::locks::struck_grips;
use super::notice::{Notice, count};
use crate::command::RouteWish;
use crate::job::{Job, Outcome};

/// The job and why it runs.
#[derive(Debug, Default)]
pub(super) struct Routing {
    job: Job<Result<Arrangement, Impossible>>,
    purpose: Purpose,
    /// Remembers from search to search what an edit does not change.
    arranger: Arc<Mutex<Arranger>>,
    /// The work that the arrangement is of.
    of: Option<Arc<Work>>,
    /// Why the work as it is cannot be arranged.
    refused: Option<String>,
}

impl Routing {
    /// Whether the arrangement is of this work.
    pub(super) fn arranges(&self, work: &Arc<Work>) -> bool {
        self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, work))
    }

    /// Why the work cannot be arranged, as far as has been found.
    pub(super) fn refused(&self) -> Option<&str> {
        self.refused.as_deref()
    }
}

/// The arranger, once no older search has it any more; one that knows nothing where a search broke off by a fault.
fn taken(arranger: &Mutex<Arranger>) -> MutexGuard<'_, Arranger> {
    arranger.lock().unwrap_or_else(|broken_off| {
        let mut anew = broken_off.into_inner();
        *anew = Arranger::default();
        arranger.clear_poison();
        anew
    })
}

/// Why an arrangement is looked for.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) enum Purpose {
    /// The work has changed.
    #[default]
    Changed,
    /// The player asked for the easiest route.
    Asked,
    /// The player asked for it in a passage.
    Passage(Range<Ticks>),
}

impl Session {
    /// Looks for the easiest route; the arrangement shown stays until it is there.
    pub(super) fn rearrange(&mut self, purpose: Purpose) {
        if self.work().tune.melody().is_empty() {
            // A tune that is only just begun: nothing to look for, and nothing to complain of.
            self.routing.job.stop();
            self.lay_aside();
            return;
        }
        let mut work = Work::clone(self.history.work());
        let question: Box<dyn FnOnce(&dyn handspan_core::watch::Watch) -> _ + Send> =
            if let (Purpose::Passage(passage), Some(current)) = (&purpose, self.arrangement.clone()) {
                let (from, to) = (passage.start, passage.end);
                released(passage).apply(&mut work);
                Box::new(move |watch| arrange_passage(&work, &current, from, to, watch))
            } else {
                let arranger = Arc::clone(&self.routing.arranger);
                Box::new(move |watch| taken(&arranger).arrange(&work, watch))
            };
        if purpose == Purpose::Changed {
            self.routing.refused = None;
        }
        self.routing.purpose = purpose;
        self.routing.job.start(&self.lane, "arrange", question);
    }

    pub(super) fn route(&mut self, wish: RouteWish) {
        match (wish, self.passage.clone()) {
            (RouteWish::Tune, _) => self.rearrange(Purpose::Asked),
            (RouteWish::Passage, Some(passage)) if self.can_route(wish) => {
                self.rearrange(Purpose::Passage(passage));
            }
            (RouteWish::Passage, _) => {}
            (RouteWish::Compare, _) => self.compare_routes(),
            (RouteWish::LookAt(index), _) => self.look_at_route(index),
            (RouteWish::Take(index), _) => self.take_route(index),
            (RouteWish::PutAway, _) => self.put_routes_away(),
            (RouteWish::Stop, _) if self.stop_comparing() => {}
            (RouteWish::Stop, _) => {
                self.routing.job.stop();
                self.notice = Some(Notice::told("Stopped; the last route stays"));
            }
        }
    }

    pub(super) fn can_route(&self, wish: RouteWish) -> bool {
        match wish {
            RouteWish::Tune => true,
            // The rest of the way stays, so it has to be of the work as it is.
            RouteWish::Passage => {
                self.passage.is_some() && self.arrangement.is_some() && self.behind().is_none()
            }
            RouteWish::Compare => self.arrangement.is_some(),
            RouteWish::LookAt(index) | RouteWish::Take(index) => index < self.routes.found().len(),
            RouteWish::PutAway => !self.routes.found().is_empty(),
            RouteWish::Stop => self.routing.job.is_running() || self.routes.comparing().is_some(),
        }
    }

    /// How far the search is, where one runs: from 0 to 1, or unknown.
    pub fn progress(&self) -> Option<Option<f32>> {
        self.routing.job.is_running().then(|| self.routing.job.progress())
    }

    pub(super) fn poll_route(&mut self) -> bool {
        let Some(outcome) = self.routing.job.poll() else {
            return false;
        };
        match outcome {
            Outcome::Answer(Ok(arrangement)) => self.adopt(arrangement),
            Outcome::Answer(Err(reason)) if matches!(self.routing.purpose, Purpose::Passage(_)) => {
                self.notice = Some(Notice::refused(reason.to_string()));
            }
            // Said for as long as it is so, not as a notice.
            Outcome::Answer(Err(reason)) => self.routing.refused = Some(reason.to_string()),
            Outcome::Lost => {
                self.notice = Some(Notice::failed(
                    "The search ended by a fault of this program; your work and the last route are unharmed",
                ));
            }
        }
        true
    }

    fn adopt(&mut self, arrangement: Arrangement) {
        match std::mem::take(&mut self.routing.purpose) {
            Purpose::Changed => {}
            Purpose::Asked => self.notice = Some(Notice::told(summary(&arrangement))),
            Purpose::Passage(passage) => {
                let before = self.arrangement().map_or(Effort::NONE, |a| a.effort_through(&passage));
                let now = arrangement.effort_through(&passage);
                self.history.apply(&Edit::TakePassage {
                    grips: struck_grips(&arrangement, &passage),
                    passage: passage.clone(),
                });
                let gain = if now == before {
                    format!("none was easier than the one there, effort {now}")
                } else {
                    format!("effort {now}, {before} before")
                };
                let bars = bars(self.tune(), &passage);
                self.notice =
                    Some(Notice::told(format!("The easiest route through {bars} is locked: {gain}")));
            }
        }
        let at = self.writing.caret();
        self.moment = arrangement.moment_index(at);
        self.arrangement = Some(Arc::new(arrangement));
        self.routing.of = Some(Arc::clone(self.history.work()));
        self.routing.refused = None;
        self.rank();
        self.engrave();
    }

    /// Shows no arrangement and no pages: the work is another one, or holds no melody.
    pub(super) fn lay_aside(&mut self) {
        self.arrangement = None;
        self.routing.of = None;
        self.routing.refused = None;
        self.paper.clear();
    }
}

/// The passage without its locked grips; what is locked of melody and bass stays.
const fn released(passage: &Range<Ticks>) -> Edit {
    Edit::TakePassage { passage: passage.start..passage.end, grips: Vec::new() }
}

/// The arrangement in a sentence: `64 moments, effort 412, hardest move in bar 7, beat 2`.
pub fn summary(arrangement: &Arrangement) -> String {
    let moments = count(arrangement.moments.len(), "moment", "moments");
    let hardest = arrangement
        .moments
        .iter()
        .rev()
        .max_by_key(|m| m.moved.total())
        .filter(|m| m.moved.total().points() > 0)
        .map_or_else(String::new, |m| format!(", hardest move in {}", arrangement.score.tune.bar_beat(m.at)));
    let stopped = if arrangement.proven { "" } else { "; stopped early, so an easier one may exist" };
    format!("{moments}, effort {}{hardest}{stopped}", arrangement.effort)
}
