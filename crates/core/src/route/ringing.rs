//! What rings into a moment, and what it costs to let it go.

use super::layer::Key;
use super::worth;
use crate::demand::Demand;
use crate::grip::fingering::Held;
use crate::grip::{Grip, Hold, Reach};
use crate::neck::{Place, StringIndex};
use crate::time::Ticks;

/// What may ring on at a moment.
#[derive(Clone, Copy)]
pub(super) struct Ringing {
    pub(super) grip: Grip,
    /// The bass's string, while it rings.
    pub(super) bass: Option<StringIndex>,
    /// What it costs that some of it lies at or above the new melody note and has to end.
    above: i64,
}

impl Ringing {
    /// The most of it that a hand can keep under a melody note: the bass first, then inner notes from the highest.
    pub(super) fn most_kept(&self, reach: &Reach, (string, hold): (StringIndex, Hold)) -> Grip {
        let mut kept = Grip::SILENT;
        let Some(mut held) = Held::new(reach, &Grip::from_holds([(string, hold)])) else { return kept };
        let bass = self.bass.and_then(|bass| Some((bass, self.grip.hold(bass)?)));
        let inner = self.grip.holds().filter(|(inner, _)| Some(*inner) != self.bass);
        for (other, hold) in bass.into_iter().chain(inner) {
            if held.takes(other, hold) {
                held.take(other, hold);
                kept.set(other, Some(hold));
            }
        }
        kept
    }

    /// What it costs to keep only so much of it.
    pub(super) fn cut(&self, kept: &Grip, demand: &Demand) -> i64 {
        if *kept == self.grip {
            return self.above;
        }
        let gone = self.grip.holds().filter(|(string, _)| kept.hold(*string).is_none());
        self.above
            + gone.map(|(string, _)| worth::cut(self.bass == Some(string), demand.rings_on())).sum::<i64>()
    }
}

/// The accompaniment that rings into a moment, less what lies at or above its melody note.
pub(super) fn rings(reach: &Reach, key: &Key, demand: &Demand) -> Ringing {
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
