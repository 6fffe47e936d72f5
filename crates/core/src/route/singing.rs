//! The melody goes on alone over what rings.

use std::collections::BTreeMap;

use super::candidates;
use super::layer::{Key, Layer, State, Target, Way};
use super::worth;
use crate::demand::{Demand, MelodyDemand};
use crate::grip::fingering::{Held, can_hold};
use crate::grip::strain::grip_effort;
use crate::grip::{Grip, Hold, Reach};
use crate::hand::Finger;
use crate::neck::{Place, StringIndex};
use crate::pitch::Pitch;
use crate::time::Ticks;

/// A melody note begins over what rings.
pub(super) fn sing(layer: &mut Layer<'_>, before: &[State], demand: &Demand) {
    let MelodyDemand::Begins { pitch, .. } = demand.melody else { return };
    let reach = layer.reach;
    let mut ringing: Vec<(Ringing, Way)> = before
        .iter()
        .zip(0..)
        .map(|(state, index)| (rings(reach, &state.key, demand), (state.cost, index)))
        .collect();
    ringing.sort_unstable_by_key(|(ringing, way)| (ringing.grip.packed(), ringing.bass, *way));
    let melody_holds = melody_holds(reach, demand, pitch);
    // What rings, less what no longer may: everything, the bass alone, nothing.
    let mut kept: BTreeMap<(Grip, Option<StringIndex>), Vec<Way>> = BTreeMap::new();
    for (ringing, (cost, index)) in &ringing {
        let mut keep = |grip: Grip, bass| {
            let cut = ringing.cut(&grip, demand);
            kept.entry((grip, bass)).or_default().push((cost + cut, *index));
        };
        keep(Grip::SILENT, None);
        if let Some(bass) = ringing.bass {
            keep(ringing.grip.only([bass].into_iter().collect()), Some(bass));
        }
    }
    for ((grip, bass), mut from) in kept {
        from.sort_unstable();
        for &melody in &melody_holds {
            if Held::new(reach, &grip).is_some_and(|held| held.takes(melody.0, melody.1)) {
                add_melody(layer, &grip, bass, melody, &from);
            }
        }
    }
    for group in ringing.chunk_by(|(a, _), (b, _)| a.grip == b.grip && a.bass == b.bass) {
        sing_over_most(layer, demand, group, &melody_holds);
    }
}

/// A melody note over as much as can be kept of what rings, for all states in which the same rings.
fn sing_over_most(
    layer: &mut Layer<'_>,
    demand: &Demand,
    group: &[(Ringing, Way)],
    melody_holds: &[(StringIndex, Hold)],
) {
    let Some((ringing, _)) = group.first() else { return };
    let Some(held) = Held::new(layer.reach, &ringing.grip) else { return };
    for &melody in melody_holds {
        let all_stays = held.takes(melody.0, melody.1);
        let most = if all_stays { ringing.grip } else { ringing.most_kept(layer.reach, melody) };
        let bass = ringing.bass.filter(|bass| most.hold(*bass).is_some());
        if most.len() > usize::from(bass.is_some()) {
            let ways =
                group.iter().map(|(ringing, (cost, index))| (cost + ringing.cut(&most, demand), *index));
            let mut from: Vec<Way> = ways.collect();
            // What lay above and has ended is not the same for all: the order of cost is a new one.
            from.sort_unstable();
            add_melody(layer, &most, bass, melody, &from);
        }
    }
}

/// Adds a melody note over what is kept, known to be held together.
fn add_melody(
    layer: &mut Layer<'_>,
    kept: &Grip,
    bass: Option<StringIndex>,
    melody: (StringIndex, Hold),
    from: &[Way],
) {
    let grip = kept.with(&Grip::from_holds([melody]));
    let cost = i64::from(grip_effort(layer.reach, &grip).total().points());
    layer.add_cheapest(&Target { grip, melody: Some(melody.0), bass, cost }, from);
}

/// What may ring on at a moment.
#[derive(Clone, Copy)]
struct Ringing {
    grip: Grip,
    /// The bass's string, while it rings.
    bass: Option<StringIndex>,
    /// What it costs that some of it lies at or above the new melody note and has to end.
    above: i64,
}

impl Ringing {
    /// The most of it that a hand can keep under a melody note: the bass first, then inner notes from the highest.
    fn most_kept(&self, reach: &Reach, (string, hold): (StringIndex, Hold)) -> Grip {
        let mut grip = Grip::from_holds([(string, hold)]);
        let bass = self.bass.and_then(|bass| Some((bass, self.grip.hold(bass)?)));
        let inner = self.grip.holds().filter(|(inner, _)| Some(*inner) != self.bass);
        for (other, hold) in bass.into_iter().chain(inner).filter(|(other, _)| *other != string) {
            grip.set(other, Some(hold));
            if !can_hold(reach, &grip) {
                grip.set(other, None);
            }
        }
        grip.set(string, None);
        grip
    }

    /// What it costs to keep only so much of it.
    fn cut(&self, kept: &Grip, demand: &Demand) -> i64 {
        let gone = self.grip.holds().filter(|(string, _)| kept.hold(*string).is_none());
        self.above
            + gone.map(|(string, _)| worth::cut(self.bass == Some(string), demand.rings_on())).sum::<i64>()
    }
}

/// The accompaniment that rings into a moment, less what lies at or above its melody note.
fn rings(reach: &Reach, key: &Key, demand: &Demand) -> Ringing {
    let mut ringing = Ringing { grip: Grip::SILENT, bass: None, above: 0 };
    if demand.rings_on() == Ticks::ZERO {
        return ringing;
    }
    for (string, hold) in key.grip.holds().filter(|(string, _)| Some(*string) != key.melody) {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret });
        if pitch < demand.melody.pitch() {
            ringing.grip.set(string, Some(hold));
        } else {
            ringing.above += worth::cut(key.bass == Some(string), demand.rings_on());
        }
    }
    ringing.bass = key.bass.filter(|bass| ringing.grip.hold(*bass).is_some());
    ringing
}

/// Every way to stop the melody note by itself.
fn melody_holds(reach: &Reach, demand: &Demand, pitch: Pitch) -> Vec<(StringIndex, Hold)> {
    let mut holds = Vec::new();
    candidates::melody_places(reach, demand, pitch, |place| {
        if place.fret.is_open() {
            holds.push((place.string, Hold::OPEN));
            return;
        }
        let thumb = Some(Finger::Thumb).filter(|_| reach.thumb_may_hold(place.string));
        holds.extend(
            thumb.into_iter().chain(Finger::FOUR).map(|f| (place.string, Hold::stopped(place.fret, f))),
        );
    });
    if let Some(locked) = demand.lock.grip {
        holds.retain(|(string, hold)| locked.hold(*string) == Some(*hold));
    }
    holds
}
