//! What rings into a moment, and what it costs to let it go.

use super::layer::Key;
use super::worth;
use crate::demand::Demand;
use crate::grip::fingering::Held;
use crate::grip::{Grip, Hold, Reach};
use crate::neck::{MAX_STRINGS, StringIndex};
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
    /// Whether a part of it is more than its bass alone.
    pub(super) fn is_more_than_bass(&self, part: &Grip) -> bool {
        part.len() > usize::from(self.bass.is_some_and(|bass| part.hold(bass).is_some()))
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

/// What can be held beside a melody note.
pub(super) struct Beside<'a> {
    melody: Held<'a>,
    /// For every string and hold: whether it can be held beside the note, once it is known.
    known: [Option<bool>; MAX_STRINGS * HOLDS],
}

/// How many ways there are to hold a string at most: a byte says which.
const HOLDS: usize = u8::MAX as usize + 1;

impl<'a> Beside<'a> {
    /// Nothing known yet beside a melody note; none where no hand can hold the note itself.
    pub(super) fn new(reach: &'a Reach, melody: (StringIndex, Hold)) -> Option<Self> {
        let melody = Held::new(reach, &Grip::from_holds([melody]))?;
        Some(Self { melody, known: [None; MAX_STRINGS * HOLDS] })
    }

    /// What of a grip can be held beside the note, each string by itself.
    pub(super) fn one_by_one(&mut self, grip: &Grip) -> Grip {
        let mut part = *grip;
        for (string, hold) in grip.holds() {
            let slot = string.index() * HOLDS + usize::from(hold.packed());
            let melody = &self.melody;
            if !*self.known[slot].get_or_insert_with(|| melody.takes(string, hold)) {
                part.set(string, None);
            }
        }
        part
    }

    /// The most of a grip that a hand can hold together beside the note: the bass first, then inner notes from the
    /// highest.
    pub(super) fn together(&self, grip: &Grip, bass: Option<StringIndex>) -> Grip {
        let mut held = self.melody.clone();
        let mut kept = Grip::SILENT;
        let first = bass.and_then(|bass| Some((bass, grip.hold(bass)?)));
        for (string, hold) in first.into_iter().chain(grip.holds().filter(|(s, _)| Some(*s) != bass)) {
            if held.takes(string, hold) {
                held.take(string, hold);
                kept.set(string, Some(hold));
            }
        }
        kept
    }
}

/// The accompaniment that rings into a moment, less what lies at or above its melody note.
pub(super) fn rings(reach: &Reach, key: &Key, demand: &Demand) -> Ringing {
    let mut ringing = Ringing { grip: Grip::SILENT, bass: None, above: 0 };
    if demand.rings_on() == Ticks::ZERO {
        return ringing;
    }
    for (string, hold) in key.grip.holds().filter(|(string, _)| Some(*string) != key.melody) {
        let pitch = hold.sounds(reach.instrument(), string);
        if pitch < demand.melody.pitch() {
            ringing.grip.set(string, Some(hold));
        } else {
            ringing.above += worth::cut(key.bass == Some(string), demand.rings_on());
        }
    }
    ringing.bass = key.bass.filter(|bass| ringing.grip.hold(*bass).is_some());
    ringing
}
