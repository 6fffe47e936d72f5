//! Of the routes through written music that are different enough from those before, nothing is easier than the next.

use std::ops::Range;

use handspan_core::demand::{Part, SoundingNote, WrittenDemand, WrittenNote};
use handspan_core::grip::moves::move_effort;
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{Grip, HandAt, Reach, StringSet};
use handspan_core::neck::{Fret, Place};
use handspan_core::pitch::Pitch;
use handspan_core::plan::Aim;
use handspan_core::route::different::in_common;
use handspan_core::route::{Shapes, Step, different_written, easiest_written, written_grips};
use handspan_core::watch::Unwatched;
use itertools::Itertools as _;

use crate::cases::{self, Case};
use crate::dice::Dice;

/// How many grips are gone through in all before a case is left out as too large.
const MOST: usize = 30_000;

/// Three to seven moments of one or two low notes, some of which sound on.
fn written(dice: &mut Dice, reach: &Reach) -> Vec<WrittenDemand> {
    let (lowest, _) = reach.instrument().range();
    let mut all: Vec<WrittenDemand> = Vec::new();
    for _ in 0..dice.from(3, 7) {
        let mut pitches: Vec<Pitch> =
            (0..dice.from(1, 2)).map(|_| Pitch::new(lowest.midi() + dice.from(0, 14) as u8)).collect();
        pitches.sort_unstable();
        pitches.dedup();
        let before = all.last().map_or(&[][..], |demand| demand.struck.as_slice());
        let sounding_on = before.iter().map(|note| note.pitch);
        let sounding_on = sounding_on.filter(|p| !pitches.contains(p) && dice.percent(40));
        let sounding_on = sounding_on.map(|pitch| SoundingNote { pitch, part: Part::Inner }).collect();
        let struck = pitches.into_iter().map(WrittenNote::plain).collect();
        all.push(WrittenDemand {
            milliseconds: dice.from(80, 900),
            begins_bar: dice.percent(20),
            struck,
            sounding_on,
        });
    }
    all
}

/// Everything that could be played in place of a part of a route.
struct Trial<'a> {
    reach: &'a Reach,
    demands: &'a [WrittenDemand],
    current: &'a [Step],
    shapes: Shapes,
    within: Range<usize>,
    all: Vec<(i64, Vec<Grip>)>,
    left: usize,
}

impl Trial<'_> {
    /// The strings of a grip that should sound on.
    fn sounding_on(&self, grip: &Grip, index: usize) -> StringSet {
        let sounds_on = |place: &Place| {
            let pitch = self.reach.instrument().sounding(*place);
            self.demands[index].sounding_on.iter().any(|note| Some(note.pitch) == pitch)
        };
        grip.voicing().places().filter(sounds_on).map(|place| place.string).collect()
    }

    /// How many notes the current route lets go.
    fn let_go(&self, index: usize) -> usize {
        let before = index.checked_sub(1).map_or(Grip::SILENT, |before| self.current[before].grip);
        let after = self.current[index].grip;
        self.sounding_on(&before, index).iter().filter(|s| before.hold(*s) != after.hold(*s)).count()
    }

    /// Goes on from some grips with what they cost and where the hand stood last.
    fn follow(&mut self, grips: &[Grip], cost: i64, position: Option<Fret>) {
        let index = grips.len();
        if index == self.demands.len() {
            self.all.push((cost, grips.to_vec()));
            return;
        }
        let demand = &self.demands[index];
        let before = grips.last().copied().unwrap_or_default();
        let sounds_on = self.sounding_on(&before, index);
        let kept =
            sounds_on.iter().powerset().filter(|kept| kept.len() + self.let_go(index) == sounds_on.len());
        let mut choices = Vec::new();
        for kept in kept {
            let kept = before.only(kept.into_iter().collect());
            written_grips(self.reach, &kept, &demand.struck, |grip| choices.push(grip));
        }
        for grip in choices {
            let fixed = (!self.within.contains(&index)).then(|| self.current[index].grip);
            if self.left == 0 || fixed.is_some_and(|fixed| fixed != grip) {
                continue;
            }
            self.left -= 1;
            let from = HandAt::holding(self.reach, &before).coming_from(position);
            let next = HandAt::holding(self.reach, &grip);
            let moved = move_effort(self.reach, &from, &next, demand.milliseconds).total();
            let shape = self.shapes.effort(self.reach, index, &grip);
            let more = i64::from((grip_effort(self.reach, &grip).total() + shape + moved).points());
            let grips: Vec<Grip> = grips.iter().copied().chain([grip]).collect();
            self.follow(&grips, cost + more, grip.position().or(position));
        }
    }
}

fn cost(steps: &[Step]) -> i64 {
    steps.iter().map(|step| i64::from((step.effort.total() + step.moved.total()).points())).sum()
}

#[test]
fn each_route_through_written_music_is_the_easiest_of_those_that_are_different_enough() {
    let mut dice = Dice::new(10);
    let (mut compared, mut routes, mut fewer, mut let_go) = (0, 0, 0, 0);
    for number in 0..900 {
        let Case { reach, .. } = cases::case(&mut dice);
        let demands = written(&mut dice, &reach);
        let found = easiest_written(&reach, &demands, Aim::LeastTotal, &Unwatched);
        let Ok(Some(route)) = found else { continue };
        let first = dice.from(0, demands.len() as i64 - 1) as usize;
        let within = first..dice.from(first as i64 + 1, demands.len() as i64) as usize;
        let mut trial = Trial {
            reach: &reach,
            demands: &demands,
            current: &route.steps,
            shapes: Shapes::new(&reach, &demands),
            within: within.clone(),
            all: Vec::new(),
            left: MOST,
        };
        trial.follow(&[], 0, None);
        if trial.left == 0 {
            continue;
        }
        let apart = |a: &[Grip], b: &[Grip]| {
            within.clone().filter(|moment| a[*moment] == b[*moment]).count() <= in_common(within.len())
        };
        let mut earlier: Vec<Vec<Grip>> = Vec::new();
        let best = |earlier: &[Vec<Grip>]| {
            let left = trial.all.iter().filter(|(_, grips)| earlier.iter().all(|other| apart(grips, other)));
            left.map(|(cost, _)| *cost).min()
        };
        let found = different_written(&reach, &demands, &route.steps, within.clone(), 5, &Unwatched);
        for steps in &found {
            let grips: Vec<Grip> = steps.iter().map(|step| step.grip).collect();
            assert!(trial.all.contains(&(cost(steps), grips.clone())), "case {number}: {demands:?}");
            assert_eq!(Some(cost(steps)), best(&earlier), "case {number}: {reach:?} {demands:?}");
            assert!(earlier.iter().all(|other| apart(&grips, other)), "case {number}");
            earlier.push(grips);
        }
        if found.len() < 5 {
            assert_eq!(best(&earlier), None, "case {number}: {demands:?}");
            fewer += 1;
        }
        let_go += usize::from((0..demands.len()).any(|index| trial.let_go(index) > 0));
        compared += 1;
        routes += found.len();
    }
    assert!(
        compared > 300 && routes > 900 && fewer > 30 && let_go > 30,
        "{routes} routes in {compared} cases, {fewer} with fewer, {let_go} let something go"
    );
}
