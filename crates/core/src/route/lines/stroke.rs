//! The accompaniment is struck together with the notes of lines that begin, under those that sound on.

use super::super::candidates::{Candidate, Stroke, Strokes};
use super::super::crowd::{Crowd, Way};
use super::super::layer::{Layer, State, Target};
use super::{LineStrings, holds, is_below, keepable, let_go, melody_on, sounds, unstruck};
use crate::demand::{Accompaniment, Demand, LineDemand};
use crate::grip::fingering::Held;
use crate::grip::{BassChoice, Grip, Hold, Reach};
use crate::neck::StringIndex;

/// Every candidate of the stroke by its best way. What sounds on of lines is held, or let go.
pub(in super::super) fn strike(
    layer: &Layer<'_>,
    reach: &Reach,
    strokes: &mut Strokes,
    before: &[State],
    demand: &Demand,
    wanted: Accompaniment,
) {
    let mut ways: Vec<(Under, Way)> = Vec::new();
    for (state, index) in before.iter().zip(0..) {
        for lines in keepable(reach, &state.key, demand) {
            let strings = melody_on(&state.key, demand).into_iter().collect();
            let held = state.key.grip.only(lines.strings().union(strings));
            let lost = layer.own(let_go(demand, state.key.lines, lines), false);
            ways.push((Under { held, lines }, (state.cost + lost, index)));
        }
    }
    ways.sort_by_key(|(under, _)| (under.held.packed(), under.lines));
    let mut crowd = Crowd::default();
    for group in ways.chunk_by(|(a, _), (b, _)| a == b) {
        crowd.gather(group.iter().map(|(_, way)| *way));
        let under = &group[0].0;
        let bass = under.lines.bass.and_then(|bass| sounds(reach, &under.held, bass));
        let wanted = Accompaniment { bass: bass.map_or(wanted.bass, BassChoice::Exact), ..wanted };
        for hook in under.hooks(reach, demand) {
            let mut held = under.held;
            let string = hook.map(|(string, _)| string).or(under.lines.hook);
            if let Some((string, hold)) = hook {
                held.set(string, Some(hold));
            }
            let stroke = Stroke { reach, demand, wanted, held: &held, hook: string };
            let candidates = strokes.beside(&stroke).all();
            layer.alone(|gatherer| {
                for (candidate, hand) in candidates {
                    let Some(lines) = under.with(reach, demand, string, candidate) else { continue };
                    let Candidate { grip, melody, bass, cost } = *candidate;
                    let cost = gatherer.own(cost + unstruck(demand, lines), bass.is_none());
                    gatherer.add_best(&Target { grip, melody, bass, lines, cost }, hand, &mut crowd);
                }
            });
        }
    }
}

/// What is held under a stroke.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Under {
    held: Grip,
    /// What of it belongs to lines.
    lines: LineStrings,
}

impl Under {
    /// The ways to strike the note of a hook that begins, none among them. A locked grip says itself what it strikes.
    fn hooks(&self, reach: &Reach, demand: &Demand) -> Vec<Option<(StringIndex, Hold)>> {
        let mut hooks = vec![None];
        let begins = demand.lines.hook.begins().filter(|pitch| is_below(*pitch, demand));
        let free = begins.filter(|_| demand.lock.grip.is_none());
        if let (Some(pitch), Some(held)) = (free, Held::new(reach, &self.held)) {
            hooks.extend(holds(reach, pitch).filter(|(string, hold)| held.takes(*string, *hold)).map(Some));
        }
        hooks
    }

    /// The strings of lines once a candidate is struck; none where it has another bass than the one that is held.
    fn with(
        &self,
        reach: &Reach,
        demand: &Demand,
        hook: Option<StringIndex>,
        candidate: &Candidate,
    ) -> Option<LineStrings> {
        let Candidate { grip, melody, bass, .. } = candidate;
        if self.lines.bass.is_some() && self.lines.bass != *bass {
            return None;
        }
        let begins = |line: LineDemand, string: StringIndex| {
            line.begins().is_some() && line.begins() == sounds(reach, grip, string)
        };
        let struck = bass.filter(|bass| begins(demand.lines.bass, *bass));
        let others = grip.strings().without(self.held.strings());
        let mut others = others.iter().filter(|string| Some(*string) != *melody && Some(*string) != *bass);
        let locked = demand.lock.grip.and_then(|_| others.find(|string| begins(demand.lines.hook, *string)));
        Some(LineStrings { bass: self.lines.bass.or(struck), hook: hook.or(locked) })
    }
}
