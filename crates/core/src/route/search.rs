//! The easiest route: exact, over every grip of every moment.
//!
//! Moments are layers. A state of a layer is what the hand holds there; a stroke of the accompaniment begins anew
//! (only a melody note that sounds on is kept), and between strokes the melody goes over what rings. What rings may
//! stay as long as string, finger and reach allow; it is let go in part rank: all that can stay stays, or the bass
//! alone, or nothing. Where a bass line or hooks are written, `lines` says how they go on. For every state the cheapest way to it is kept, so the last layer's cheapest state ends the
//! easiest route of all. Ties go to the smaller state, then to the smaller predecessor.

use std::collections::BTreeSet;
use std::fmt;

use super::crowd::Transitions;
use super::known::Known;
use super::layer::{Layer, State, cheapest};
use super::lines::{self, LineStrings};
use super::memory::Pass;
use super::singing::sing;
use super::striking::strike;
use super::weighing::Weighing;
use crate::demand::Demand;
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, GripEffort, MoveEffort, Reach, StringSet};
use crate::neck::StringIndex;
use crate::plan::Aim;
use crate::watch::{Unwatched, Watch};

/// How many states of a layer the first, hurried pass keeps.
const HURRIED: usize = 48;

/// One moment of a route.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Step {
    /// Everything that sounds.
    pub grip: Grip,
    /// The strings struck at this moment.
    pub struck: StringSet,
    /// The melody's string.
    pub melody: Option<StringIndex>,
    /// The string of the bass that sounds.
    pub bass: Option<StringIndex>,
    /// The strings of notes of a bass line and of hooks that sound.
    pub lines: LineStrings,
    /// What the grip costs.
    pub effort: GripEffort,
    /// What the move from the moment before costs.
    pub moved: MoveEffort,
}

/// One grip for every moment.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Route {
    /// A step for every demand.
    pub steps: Vec<Step>,
    /// Effort, worth and give-ways together: what the search made smallest.
    pub cost: i64,
    /// Whether no route is cheaper; false when the search was stopped and this is the best so far.
    pub proven: bool,
}

impl Route {
    /// What routes are compared by under an aim, the best the smallest: basses lost, hardest move and total for the
    /// gentlest, the total alone otherwise.
    pub fn rank(&self, aim: Aim) -> (i64, i32, i64) {
        match aim {
            Aim::LeastTotal => (0, 0, self.cost),
            Aim::Gentlest => {
                let hardest = self.steps.iter().map(|step| step.moved.total().points()).max();
                (Weighing::basses_lost(self.cost), hardest.unwrap_or(0), self.cost)
            }
        }
    }
}

/// Why there is no route: at this demand nothing is left that keeps every lock.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Impasse {
    /// The index of the demand.
    pub demand: usize,
}

/// The easiest route through all demands.
///
/// Stopped early, it gives the best route of a hurried pass and does not call it proven.
///
/// # Errors
/// Where locks leave nothing that a hand can hold.
pub fn easiest(reach: &Reach, demands: &[Demand], aim: Aim, watch: &dyn Watch) -> Result<Route, Impasse> {
    Finder::new(reach).easiest(demands, aim, watch)
}

/// Finds easiest routes under one reach, and remembers what it has worked out.
///
/// Demands that are the same as in the search before, up to the first that has changed, are not gone through again.
pub struct Finder<'a> {
    known: Known<'a>,
}

impl fmt::Debug for Finder<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Finder").field("transitions", &self.known.transitions).finish_non_exhaustive()
    }
}

impl<'a> Finder<'a> {
    /// Nothing worked out yet.
    pub fn new(reach: &'a Reach) -> Self {
        Self { known: Known::new(reach) }
    }

    /// As [`easiest()`].
    ///
    /// # Errors
    /// As [`easiest()`].
    pub fn easiest(&mut self, demands: &[Demand], aim: Aim, watch: &dyn Watch) -> Result<Route, Impasse> {
        let mut search = Search { demands, known: &mut self.known };
        match search.solve(aim, watch)? {
            Some(route) => Ok(route),
            None => search.hurried(),
        }
    }

    /// How many transitions all searches so far have looked at.
    pub const fn transitions(&self) -> Transitions {
        self.known.transitions
    }
}

/// One search: what is demanded, and what is known already.
struct Search<'a, 'k> {
    demands: &'a [Demand],
    known: &'a mut Known<'k>,
}

impl Search<'_, '_> {
    /// The easiest route, proven; none when stopped.
    ///
    /// For the gentlest hardest move, a first pass finds how hard it has to be, and a second one the least total of
    /// all routes without a harder one. Both at once would not be exact: the gentler of two ways to a state may turn
    /// out dearer once a harder move has to follow anyway.
    fn solve(&mut self, aim: Aim, watch: &dyn Watch) -> Result<Option<Route>, Impasse> {
        let passes = if aim == Aim::Gentlest { 2 } else { 1 };
        let weighing = match aim {
            Aim::LeastTotal => Weighing::TOTAL,
            Aim::Gentlest => {
                let first = Stretch { watch, pass: 0, passes };
                let Some(pass) = self.pass(Weighing::HardestMove, None, &first)? else { return Ok(None) };
                let hardest = cheapest(&pass.layers).map_or(0, |state| state.cost);
                self.known.memory.keep(pass);
                Weighing::no_harder_than(hardest)
            }
        };
        let last = Stretch { watch, pass: passes - 1, passes };
        let Some(pass) = self.pass(weighing, None, &last)? else { return Ok(None) };
        let route = self.trace(&pass.layers, true);
        self.known.memory.keep(pass);
        Ok(Some(route))
    }

    /// The best route of a pass that follows few states only.
    fn hurried(&mut self) -> Result<Route, Impasse> {
        let whole = Stretch { watch: &Unwatched, pass: 0, passes: 1 };
        let pass = self.pass(Weighing::TOTAL, Some(HURRIED), &whole)?;
        pass.map(|pass| self.trace(&pass.layers, false)).ok_or(Impasse { demand: 0 })
    }

    /// The states of every moment; none when stopped. A pass that follows all states goes on where one like it is
    /// known up to.
    fn pass(
        &mut self,
        weighing: Weighing,
        most_states: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<Option<Pass>, Impasse> {
        let mut pass = match most_states {
            None => self.known.memory.recall(weighing, self.demands),
            Some(_) => Pass::new(weighing),
        };
        let come_through = self.go_on(&mut pass, weighing, most_states, watch);
        if come_through == Ok(true) {
            return Ok(Some(pass));
        }
        if most_states.is_none() {
            self.known.memory.keep(pass);
        }
        come_through.map(|_| None)
    }

    /// Adds the states of the moments that a pass lacks. False when stopped.
    fn go_on(
        &mut self,
        pass: &mut Pass,
        weighing: Weighing,
        most_states: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<bool, Impasse> {
        for (index, demand) in self.demands.iter().enumerate().skip(pass.layers.len() - 1) {
            if watch.should_stop() {
                return Ok(false);
            }
            let mut layer = advance(self.known, weighing, &pass.layers[index], demand);
            if layer.is_empty() {
                return Err(Impasse { demand: index });
            }
            if let Some(most) = most_states.filter(|most| *most < layer.len()) {
                hurry(&mut layer, most);
            }
            pass.push(demand, layer);
            watch.progress(index + 1, self.demands.len());
        }
        Ok(true)
    }

    /// Walks back from the cheapest last state.
    fn trace(&mut self, layers: &[Vec<State>], proven: bool) -> Route {
        let Some(end) = cheapest(layers) else { return Route { steps: Vec::new(), cost: 0, proven } };
        let mut steps = Vec::with_capacity(self.demands.len());
        let mut state = end;
        for (demand, before) in self.demands.iter().zip(layers).rev() {
            let before = &before[state.from as usize];
            steps.push(step(self.known, demand, before, state));
            state = before;
        }
        steps.reverse();
        Route { steps, cost: end.cost, proven }
    }
}

/// The watch of one pass of several.
struct Stretch<'a> {
    watch: &'a dyn Watch,
    pass: usize,
    passes: usize,
}

impl Watch for Stretch<'_> {
    fn should_stop(&self) -> bool {
        self.watch.should_stop()
    }

    fn progress(&self, done: usize, total: usize) {
        self.watch.progress(self.pass * total + done, self.passes * total);
    }
}

/// Keeps the cheapest states of a layer, and the cheapest of every way to hold the melody: under a melody note that
/// sounds on a locked grip may leave room for one of them alone.
fn hurry(layer: &mut Vec<State>, most: usize) {
    layer.sort_unstable_by_key(|state| (state.cost, state.key.packed()));
    let mut melodies = BTreeSet::new();
    let mut rank = 0;
    layer.retain(|State { key, .. }| {
        rank += 1;
        melodies.insert(key.melody.map(|string| (string, key.grip.hold(string)))) || rank <= most
    });
}

/// A step of a route, from one state to the next.
pub(super) fn step(known: &mut Known<'_>, demand: &Demand, before: &State, state: &State) -> Step {
    let key = &state.key;
    let pace = known.paces.of(demand.milliseconds);
    Step {
        grip: key.grip,
        struck: lines::struck(demand, key),
        melody: key.melody,
        bass: key.bass,
        lines: key.lines,
        effort: grip_effort(known.reach, &key.grip),
        moved: pace.effort(&before.key.hand(known.reach), &key.hand(known.reach)),
    }
}

/// Every state of the next moment, each by its cheapest way.
pub(super) fn advance(
    known: &mut Known<'_>,
    weighing: Weighing,
    before: &[State],
    demand: &Demand,
) -> Vec<State> {
    let Known { reach, strokes, paces, efforts, transitions, .. } = known;
    let hands: Vec<_> = before.iter().map(|state| state.key.hand(reach)).collect();
    let mut layer = Layer::new(weighing, paces.of(demand.milliseconds), &hands, transitions);
    match (demand.accompaniment, demand.lines.are_silent()) {
        (Some(wanted), true) => strike(&mut layer, strokes, before, demand, wanted),
        (None, true) => sing(reach, efforts, &mut layer, before, demand),
        (Some(wanted), false) => lines::strike(&mut layer, strokes, reach, before, demand, wanted),
        (None, false) => lines::sing(reach, efforts, &mut layer, before, demand),
    }
    layer.into_states()
}
