//! Notes tied over a repeat or a jump: both ends on one string.
//!
//! The route knows written order alone. Where the easiest route has the ends of such a tie on two strings, every
//! string is tried for both. A lock more never makes a route cheaper, so a try that costs no less than the best route
//! found is not followed, and the best of all is the easiest.

use super::impossible::Impossible;
use crate::demand::Demand;
use crate::neck::StringIndex;
use crate::plan::Plan;
use crate::route::Route;
use crate::tune::Tune;

/// How many routes are found before the best so far has to do: then it is not called proven.
const TRIES: u32 = 60;

/// The demands, with every tied note that would have changed its string locked to one, and their route.
#[derive(Debug)]
pub(super) struct Tied {
    pub(super) demands: Vec<Demand>,
    pub(super) route: Route,
}

impl Tied {
    /// The demands with both ends of every tie locked to the string they have on the route.
    pub(super) fn locked(&self, tune: &Tune) -> Vec<Demand> {
        let mut locked = self.demands.clone();
        for index in ties(tune, &self.demands).into_iter().flat_map(<[usize; 2]>::from) {
            locked[index].lock.melody = self.route.steps[index].melody;
        }
        locked
    }
}

/// The easiest route on which both ends of every tie over a repeat or a jump lie on one string.
///
/// # Errors
/// As `solve`, which finds the easiest route for demands; `refuse` says that the locks of a demand cannot be kept.
pub(super) fn easiest_tied(
    plan: &Plan,
    tune: &Tune,
    demands: Vec<Demand>,
    solve: impl FnMut(&[Demand]) -> Result<Route, Impossible>,
    refuse: impl Fn(&Demand) -> Impossible,
) -> Result<Tied, Impossible> {
    let ties = ties(tune, &demands);
    let mut search = Search { plan, ties, solve, refuse, best: None, proven: true, tries: TRIES };
    let fault = search.follow(demands);
    let proven = search.proven;
    let found = search.best.map(|tied| Tied { route: Route { proven, ..tied.route }, ..tied });
    found.map_or_else(|| Err(fault.expect_err("without a route there is a fault")), Ok)
}

/// The demands where a note that is tied over a seam begins, and where it is tied in again.
fn ties(tune: &Tune, demands: &[Demand]) -> Vec<(usize, usize)> {
    let begins = |at| demands.iter().position(|demand| demand.at == at);
    let ties = tune.melody().iter().filter(|note| note.tied_in).filter_map(|tied_in| {
        let source = tune.melody().iter().find(|note| note.tied_out && note.pitch() == tied_in.pitch())?;
        Some((begins(source.at)?, begins(tied_in.at)?))
    });
    ties.collect()
}

struct Search<'a, Solve, Refuse> {
    plan: &'a Plan,
    ties: Vec<(usize, usize)>,
    solve: Solve,
    refuse: Refuse,
    best: Option<Tied>,
    /// Whether nothing was stopped or left out so far.
    proven: bool,
    tries: u32,
}

impl<Solve, Refuse> Search<'_, Solve, Refuse>
where
    Solve: FnMut(&[Demand]) -> Result<Route, Impossible>,
    Refuse: Fn(&Demand) -> Impossible,
{
    /// Finds the easiest route for demands, and goes on from there while it breaks a tie.
    fn follow(&mut self, demands: Vec<Demand>) -> Result<(), Impossible> {
        self.tries -= 1;
        let route = (self.solve)(&demands)?;
        self.proven &= route.proven;
        if self.best.as_ref().is_some_and(|best| best.route.rank(self.plan.aim) <= route.rank(self.plan.aim))
        {
            return Ok(());
        }
        let strings = |(source, target): (usize, usize)| [source, target].map(|i| route.steps[i].melody);
        let broken = self.ties.iter().copied().find(|tie| strings(*tie)[0] != strings(*tie)[1]);
        let Some((source, target)) = broken else {
            self.best = Some(Tied { demands, route });
            return Ok(());
        };
        let mut fault = Err((self.refuse)(&demands[target]));
        for string in self.strings(&demands, (source, target)) {
            if self.tries == 0 || (!self.proven && self.best.is_some()) {
                self.proven = false;
                break;
            }
            let mut locked = demands.clone();
            for index in [source, target] {
                locked[index].lock.melody = Some(string);
            }
            let followed = self.follow(locked);
            if fault.is_err() {
                fault = followed;
            }
        }
        fault
    }

    /// The strings that both ends of a tie may lie on.
    fn strings(&self, demands: &[Demand], (source, target): (usize, usize)) -> Vec<StringIndex> {
        let may_lie = |index: usize, string| demands[index].lock.melody.is_none_or(|only| only == string);
        let places = demands[source].melody.pitch().into_iter().flat_map(|p| self.plan.instrument.places(p));
        let strings = places.map(|place| place.string);
        strings.filter(|string| may_lie(source, *string) && may_lie(target, *string)).collect()
    }
}
