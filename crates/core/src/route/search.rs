//! The easiest route: exact, over every grip of every moment.
//!
//! Moments are layers. A state of a layer is what the hand holds there; a stroke of the accompaniment begins anew
//! (only a melody note that sounds on is kept), and between strokes the melody goes over what rings. What rings may
//! stay as long as string, finger and reach allow; it is let go in part rank: all that can stay stays, or the bass
//! alone, or nothing. Where a bass line or hooks are written, `lines` says how they go on. For every state the cheapest
//! way to it is kept, so the last layer's cheapest state ends the easiest route of all. Ties go to the smaller state,
//! then to the smaller predecessor.

use std::collections::BTreeSet;
use std::fmt;

use super::crowd::Transitions;
use super::known::Known;
use super::layer::{Key, State, cheapest};
use super::lines::{self, LineStrings};
use super::memory::{LayerId, Link, Memory, bare};
use super::singing::sing;
use super::striking::strike;
use super::weighing::Weighing;
use crate::demand::{Demand, MelodyDemand};
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, GripEffort, MoveEffort, Reach, StringSet};
use crate::neck::StringIndex;
use crate::plan::Aim;
use crate::watch::{Piece, Unwatched, Watch};

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

    /// How many strokes have no bass.
    pub const fn basses_given_up(&self) -> usize {
        let lost = Weighing::basses_lost(self.cost);
        if lost < 0 { 0 } else { lost as usize }
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
/// What a tune says again, and what a search before has found out already, is not gone through again: after an edit only
/// as far as it makes a difference. The answer is that of a finder that knows nothing.
pub struct Finder {
    known: Known,
    memory: Memory,
}

impl fmt::Debug for Finder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Finder").field("transitions", &self.known.transitions()).finish_non_exhaustive()
    }
}

impl Finder {
    /// Nothing worked out yet.
    pub fn new(reach: &Reach) -> Self {
        Self { known: Known::new(reach), memory: Memory::new() }
    }

    /// The reach under which routes are found.
    pub const fn reach(&self) -> &Reach {
        &self.known.reach
    }

    /// As [`easiest()`].
    ///
    /// # Errors
    /// As [`easiest()`].
    pub fn easiest(&mut self, demands: &[Demand], aim: Aim, watch: &dyn Watch) -> Result<Route, Impasse> {
        self.memory.begin_search();
        self.known.strokes.begin_search();
        self.known.strokes.prepare(&self.known.reach, demands, watch);
        let mut search = Search { demands, known: &mut self.known, memory: &mut self.memory };
        match search.solve(aim, watch)? {
            Some(route) => Ok(route),
            None => search.hurried(),
        }
    }

    /// How many basses every route has to give up: of strokes that begin anew, those of which no grip has a bass. What
    /// is worked out of the strokes is remembered for the search.
    pub fn basses_given_up_for_certain(&mut self, demands: &[Demand]) -> usize {
        let Known { reach, strokes, .. } = &mut self.known;
        let anew = demands.iter().filter(|demand| {
            demand.lines.are_silent() && !matches!(demand.melody, MelodyDemand::SoundsOn { .. })
        });
        let has_no_bass = |demand: &&Demand| {
            demand.accompaniment.is_some_and(|wanted| {
                let candidates = strokes.of(reach, demand, wanted, &Grip::SILENT);
                !candidates.is_empty()
                    && candidates.all().iter().all(|(candidate, _)| candidate.bass.is_none())
            })
        };
        anew.filter(has_no_bass).count()
    }

    /// Forgets every search so far, but not what can be held at a moment: to measure a search alone.
    pub fn forget_searches(&mut self) {
        self.memory = Memory::new();
    }

    /// How many transitions all searches so far have looked at.
    pub const fn transitions(&self) -> Transitions {
        self.known.transitions()
    }
}

/// One search: what is demanded, and what is known already.
struct Search<'a> {
    demands: &'a [Demand],
    known: &'a mut Known,
    memory: &'a mut Memory,
}

impl Search<'_> {
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
                let Some(pass) = self.pass(Weighing::HardestMove, &first)? else { return Ok(None) };
                Weighing::no_harder_than(self.memory.cost(&pass))
            }
        };
        let last = Stretch { watch, pass: passes - 1, passes };
        let Some(pass) = self.pass(weighing, &last)? else { return Ok(None) };
        let (keys, cost) = (self.memory.trace(&pass), self.memory.cost(&pass));
        Ok(Some(self.route(&keys, cost, true)))
    }

    /// Goes from layer to layer through all demands; none when stopped.
    fn pass(&mut self, weighing: Weighing, watch: &dyn Watch) -> Result<Option<Vec<Link>>, Impasse> {
        let mut pass = Vec::with_capacity(self.demands.len());
        let mut layer = Memory::BEGINNING;
        for (index, demand) in self.demands.iter().enumerate() {
            if watch.should_stop() {
                return Ok(None);
            }
            let stroke = self.stroke_after(weighing, index);
            let link = self.follow(weighing, layer, (&bare(demand), stroke), watch);
            let link = link.ok_or(Impasse { demand: index })?;
            layer = link.to;
            pass.push(link);
            watch.progress(index + 1, self.demands.len());
        }
        Ok(Some(pass))
    }

    /// What follows a layer: remembered, or worked out; none where nothing does.
    fn follow(
        &mut self,
        weighing: Weighing,
        layer: LayerId,
        (demand, stroke): (&Demand, Option<i64>),
        watch: &dyn Watch,
    ) -> Option<Link> {
        if let Some(known) = self.memory.recall(layer, weighing, (demand, stroke)) {
            return Some(known);
        }
        let states = advance(self.known, weighing, self.memory.states(layer), (demand, stroke), watch);
        (!states.is_empty()).then(|| self.memory.keep(layer, weighing, (demand, stroke), states))
    }

    /// How much time the move has from a melody note to the stroke that comes right after it, where a stroke does and
    /// what can't catch up in that move may be left out: not in a pass that looks at the hardest move or forbids hard
    /// ones, since what catches up is a sum.
    fn stroke_after(&self, weighing: Weighing, index: usize) -> Option<i64> {
        let is_alone = |demand: &Demand| demand.lines.are_silent();
        let next =
            self.demands.get(index + 1).filter(|next| next.accompaniment.is_some() && is_alone(next))?;
        (weighing == Weighing::TOTAL && is_alone(&self.demands[index])).then_some(next.milliseconds)
    }

    /// The best route of a pass that follows few states only.
    fn hurried(&mut self) -> Result<Route, Impasse> {
        let mut layers = vec![vec![State::at(Key::NOTHING)]];
        for (index, demand) in self.demands.iter().enumerate() {
            let mut layer = advance(self.known, Weighing::TOTAL, &layers[index], (demand, None), &Unwatched);
            if layer.is_empty() {
                return Err(Impasse { demand: index });
            }
            hurry(&mut layer, HURRIED);
            layers.push(layer);
        }
        let end = cheapest(&layers).copied().unwrap_or(State::at(Key::NOTHING));
        let mut keys = vec![end.key];
        let mut from = end.from;
        for layer in layers.iter().rev().skip(1) {
            let State { key, from: before, .. } = layer[from as usize];
            keys.push(key);
            from = before;
        }
        keys.reverse();
        Ok(self.route(&keys, end.cost, false))
    }

    /// The route along some keys, the beginning first.
    fn route(&mut self, keys: &[Key], cost: i64, proven: bool) -> Route {
        let moves = keys.iter().zip(keys.iter().skip(1));
        let steps = self.demands.iter().zip(moves);
        let steps = steps.map(|(demand, (before, key))| step(self.known, demand, before, key)).collect();
        Route { steps, cost, proven }
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

    fn at_once(&self) -> usize {
        self.watch.at_once()
    }

    fn side_by_side(&self, pieces: Vec<Piece<'_>>) {
        self.watch.side_by_side(pieces);
    }
}

/// Keeps the cheapest states of a layer, and the cheapest of every way to hold the melody: under a melody note that
/// sounds on a locked grip may leave room for one of them alone.
fn hurry(layer: &mut Vec<State>, most: usize) {
    if layer.len() <= most {
        return;
    }
    layer.sort_unstable_by_key(|state| (state.cost, state.key.packed()));
    let mut melodies = BTreeSet::new();
    let mut rank = 0;
    layer.retain(|State { key, .. }| {
        rank += 1;
        melodies.insert(key.melody.map(|string| (string, key.grip.hold(string)))) || rank <= most
    });
}

/// A step of a route, from one state to the next.
pub(super) fn step(known: &mut Known, demand: &Demand, before: &Key, key: &Key) -> Step {
    let reach = &known.reach;
    let pace = known.paces.of(reach, demand.milliseconds);
    Step {
        grip: key.grip,
        struck: lines::struck(demand, key),
        melody: key.melody,
        bass: key.bass,
        lines: key.lines,
        effort: grip_effort(reach, &key.grip),
        moved: pace.effort(&before.hand(reach), &key.hand(reach)),
    }
}

/// Every state of the next moment, each by its cheapest way; where a stroke comes next, for which there is so much time,
/// without states that can't catch up with others.
pub(super) fn advance(
    known: &mut Known,
    weighing: Weighing,
    before: &[State],
    (demand, stroke): (&Demand, Option<i64>),
    watch: &dyn Watch,
) -> Vec<State> {
    let holding_on = stroke.and_then(|milliseconds| known.paces.holding_on(&known.reach, milliseconds));
    let (reach, strokes, layer) = known.set_out(weighing, before, demand.milliseconds, watch);
    match (demand.accompaniment, demand.lines.are_silent()) {
        (Some(wanted), true) => strike(&layer, reach, strokes, before, demand, wanted),
        (None, true) => sing(reach, &layer, before, demand, holding_on.as_deref()),
        (Some(wanted), false) => lines::strike(&layer, reach, strokes, before, demand, wanted),
        (None, false) => lines::sing(reach, &layer, before, demand),
    }
    layer.into_states()
}
