//! Notes of lines begin or sound on between strokes, alone or under the melody, over what rings.

use super::super::candidates;
use super::super::crowd::{Crowd, Way};
use super::super::layer::{Gatherer, Key, Layer, State, Target};
use super::super::ringing::Ringing;
use super::{
    LineStrings, holds, holds_at, is_below, keepable, let_go, loses_bass, melody_on, sounds, unstruck,
};
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::Held;
use crate::grip::{Grip, HandAt, Hold, Reach};
use crate::neck::StringIndex;
use crate::pitch::Pitch;

/// Every way to go on: what begins is struck, as much of it as can be, and of what rings all that can stay is kept, or
/// the bass alone, or nothing.
pub(in super::super) fn sing(reach: &Reach, layer: &Layer<'_>, before: &[State], demand: &Demand) {
    let mut ways: Vec<(Frame, Ringing, Way)> = Vec::new();
    for (state, index) in before.iter().zip(0..) {
        let (ringing, above) = Ringing::new(reach, &state.key, demand);
        let cost = state.cost + layer.own(above, false);
        for frame in Frame::of(reach, &state.key, demand) {
            let lost = layer.own(let_go(demand, state.key.lines, frame.lines), false);
            ways.push((frame, ringing, (cost + lost, index)));
        }
    }
    ways.sort_unstable_by_key(|(frame, ringing, way)| (frame.packed(), ringing.packed(), *way));
    for same in ways.chunk_by(|(a, ..), (b, ..)| a == b) {
        let frame = same[0].0;
        let bases = frame.bases(reach, demand);
        let mut over = Over::new(layer, demand, same);
        layer.alone(|gatherer| {
            let mut song = Song { reach, gatherer, demand };
            for base in &bases {
                song.over(base, &mut over);
            }
        });
    }
}

/// What stays in any case: the melody note that sounds on, and notes of lines that do.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Frame {
    grip: Grip,
    melody: Option<StringIndex>,
    lines: LineStrings,
}

impl Frame {
    /// The frames that a state leaves: with every note of a line that sounds on, and with some let go.
    fn of(reach: &Reach, key: &Key, demand: &Demand) -> impl Iterator<Item = Self> {
        let (grip, melody) = (key.grip, melody_on(key, demand));
        keepable(reach, key, demand).map(move |lines| {
            let strings = lines.strings().union(melody.into_iter().collect());
            Self { grip: grip.only(strings), melody, lines }
        })
    }

    fn packed(&self) -> (u128, Option<StringIndex>, LineStrings) {
        (self.grip.packed(), self.melody, self.lines)
    }

    /// Every way to strike what begins on top of it. The melody note is always struck.
    fn bases<'a>(&self, reach: &'a Reach, demand: &Demand) -> Vec<Base<'a>> {
        let Some(held) = Held::new(reach, &self.grip) else { return Vec::new() };
        let frame = Base { held, grip: self.grip, melody: self.melody, lines: self.lines, lowest: None };
        let mut bases = match demand.melody {
            MelodyDemand::Begins { pitch, .. } => {
                let mut sung = Vec::new();
                candidates::melody_places(reach, demand, pitch, |place| {
                    sung.extend(holds_at(reach, place).filter_map(|note| frame.striking(note)));
                });
                sung.into_iter().map(|(base, string)| Base { melody: Some(string), ..base }).collect()
            }
            _ => vec![frame],
        };
        let free = |pitch: &Pitch| is_below(*pitch, demand);
        if let Some(pitch) = demand.lines.bass.begins().filter(free) {
            also(&mut bases, reach, pitch, |base, string| Base {
                lines: LineStrings { bass: Some(string), ..base.lines },
                lowest: Some(pitch),
                ..base
            });
        }
        if let Some(pitch) = demand.lines.hook.begins().filter(free) {
            also(&mut bases, reach, pitch, |base, string| Base {
                lines: LineStrings { hook: Some(string), ..base.lines },
                ..base
            });
        }
        bases.retain(|base| base.is_in_order(reach) && base.keeps_lock(demand, self));
        bases
    }
}

/// Adds the bases that strike one note more.
fn also<'a>(
    bases: &mut Vec<Base<'a>>,
    reach: &'a Reach,
    pitch: Pitch,
    with: impl Fn(Base<'a>, StringIndex) -> Base<'a>,
) {
    let struck: Vec<Base<'a>> = bases
        .iter()
        .flat_map(|base| holds(reach, pitch).filter_map(|note| base.striking(note)))
        .map(|(base, string)| with(base, string))
        .collect();
    bases.extend(struck);
}

/// A frame with what is struck on top of it.
#[derive(Clone)]
struct Base<'a> {
    held: Held<'a>,
    grip: Grip,
    melody: Option<StringIndex>,
    lines: LineStrings,
    /// The note of the bass line that is struck: whatever rings lies above it.
    lowest: Option<Pitch>,
}

impl Base<'_> {
    fn striking(&self, (string, hold): (StringIndex, Hold)) -> Option<(Self, StringIndex)> {
        self.held.takes(string, hold).then(|| {
            let mut base = self.clone();
            base.held.take(string, hold);
            base.grip.set(string, Some(hold));
            (base, string)
        })
    }

    /// Whether the hook lies above the bass line.
    fn is_in_order(&self, reach: &Reach) -> bool {
        let pitch = |string: Option<StringIndex>| sounds(reach, &self.grip, string?);
        match (pitch(self.lines.bass), pitch(self.lines.hook)) {
            (Some(bass), Some(hook)) => bass < hook,
            _ => true,
        }
    }

    fn keeps_lock(&self, demand: &Demand, frame: &Frame) -> bool {
        let struck = self.grip.strings().without(frame.grip.strings());
        demand.lock.grip.is_none_or(|locked| locked == self.grip.only(struck))
    }

    /// The most of what rings that a hand can hold together besides: the bass first, then inner notes from the highest.
    fn most(&self, reach: &Reach, ringing: &Ringing) -> Grip {
        let mut held = self.held.clone();
        let mut kept = Grip::SILENT;
        let bass = ringing.bass.and_then(|bass| Some((bass, ringing.grip.hold(bass)?)));
        let inner = ringing.grip.holds().filter(|(string, _)| Some(*string) != ringing.bass);
        for (string, hold) in bass.into_iter().chain(inner) {
            let pitch = sounds(reach, &ringing.grip, string);
            if self.lowest.is_none_or(|lowest| pitch > Some(lowest)) && held.takes(string, hold) {
                held.take(string, hold);
                kept.set(string, Some(hold));
            }
        }
        kept
    }
}

/// The ways into a moment that leave one frame, by what rings.
struct Over {
    /// Everything that rang is let go.
    nothing: Crowd,
    /// All but the bass is let go.
    basses: Vec<(Ringing, Crowd)>,
    /// Nothing is let go yet.
    whole: Vec<(Ringing, Crowd)>,
}

impl Over {
    fn new(layer: &Layer<'_>, demand: &Demand, ways: &[(Frame, Ringing, Way)]) -> Self {
        let crowd = |ways: &mut dyn Iterator<Item = Way>| {
            let mut crowd = Crowd::default();
            crowd.gather(ways);
            crowd
        };
        let cut = |ringing: &Ringing, kept: &Grip, (cost, index): Way| {
            (
                cost + layer.own(ringing.cut(ringing.grip.strings().without(kept.strings()), demand), false),
                index,
            )
        };
        let nothing = crowd(&mut ways.iter().map(|(_, ringing, way)| cut(ringing, &Grip::SILENT, *way)));
        let mut basses: Vec<(Ringing, Way)> = ways
            .iter()
            .filter_map(|(_, ringing, way)| {
                let bass = ringing.bass_alone()?;
                Some((bass, cut(ringing, &bass.grip, *way)))
            })
            .collect();
        basses.sort_by_key(|(bass, _)| bass.packed());
        let basses = basses
            .chunk_by(|(a, _), (b, _)| a == b)
            .map(|same| (same[0].0, crowd(&mut same.iter().map(|(_, way)| *way))))
            .collect();
        let whole = ways
            .chunk_by(|(_, a, _), (_, b, _)| a == b)
            .map(|same| (same[0].1, crowd(&mut same.iter().map(|(.., way)| *way))))
            .collect();
        Self { nothing, basses, whole }
    }
}

struct Song<'a, 'g, 'd> {
    reach: &'a Reach,
    gatherer: &'g mut Gatherer<'d>,
    demand: &'a Demand,
}

impl Song<'_, '_, '_> {
    fn over(&mut self, base: &Base<'_>, over: &mut Over) {
        let silence = Ringing { grip: Grip::SILENT, bass: None };
        self.add(base, &silence, &Grip::SILENT, &mut over.nothing);
        for (bass, crowd) in &mut over.basses {
            if base.most(self.reach, bass) == bass.grip {
                self.add(base, bass, &bass.grip, crowd);
            }
        }
        for (ringing, crowd) in &mut over.whole {
            let most = base.most(self.reach, ringing);
            let bass = ringing.bass.is_some_and(|bass| most.hold(bass).is_some());
            if most.len() > usize::from(bass) {
                self.add(base, ringing, &most, crowd);
            }
        }
    }

    /// Adds the state in which a part of what rings is kept.
    fn add(&mut self, base: &Base<'_>, ringing: &Ringing, kept: &Grip, crowd: &mut Crowd) {
        let grip = base.grip.with(kept);
        let bass = ringing.bass.filter(|bass| kept.hold(*bass).is_some());
        let Base { melody, lines, .. } = *base;
        let gone = ringing.grip.strings().without(kept.strings());
        let gone = ringing.cut(gone, self.demand) + unstruck(self.demand, lines);
        let effort = self.gatherer.effort(self.reach, &grip);
        let cost = self.gatherer.own(effort + gone, loses_bass(self.demand, lines));
        let target = Target { grip, melody, bass: lines.bass.or(bass), lines, cost };
        self.gatherer.add_best(&target, &HandAt::holding(self.reach, &grip), crowd);
    }
}
