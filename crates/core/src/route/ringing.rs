//! What rings into a moment, and what it costs to let it go.

use super::layer::Key;
use super::lines::is_below;
use super::worth;
use crate::demand::Demand;
use crate::grip::fingering::Held;
use crate::grip::{Grip, HOLDS, Hold, Reach, StringSet};
use crate::hand::FingerSet;
use crate::neck::{MAX_STRINGS, StringIndex};
use crate::time::Ticks;

/// The accompaniment that rings into a moment, less what has to end in any case.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Ringing {
    pub(super) grip: Grip,
    /// The string of the chord's bass, while it rings.
    pub(super) bass: Option<StringIndex>,
}

impl Ringing {
    /// What rings on of a state, and what it costs that some of it lies at or above the melody note and has to end.
    /// Where the bass line goes on, the bass before has had its time.
    pub(super) fn new(reach: &Reach, key: &Key, demand: &Demand) -> (Self, i64) {
        let mut ringing = Self { grip: Grip::SILENT, bass: None };
        let mut above = 0;
        if demand.rings_on() == Ticks::ZERO {
            return (ringing, above);
        }
        let over = key.bass.filter(|_| demand.lines.bass.begins().is_some());
        let ended = key.lines.strings().union(key.melody.into_iter().chain(over).collect());
        ringing.grip = key.grip.only(key.grip.strings().without(ended));
        for (string, hold) in key.grip.only(ringing.grip.strings()).holds() {
            if reach.sounds(string, hold).is_none_or(|pitch| !is_below(pitch, demand)) {
                ringing.grip.set(string, None);
                above += worth::cut(key.bass == Some(string), demand.rings_on());
            }
        }
        ringing.bass = key.bass.filter(|bass| ringing.grip.hold(*bass).is_some());
        (ringing, above)
    }

    /// A number of its own, to sort by.
    pub(super) fn packed(&self) -> u128 {
        self.grip.packed() << 8 | self.bass.map_or(0, |bass| u128::from(bass.number()))
    }

    /// The bass alone.
    pub(super) fn bass_alone(&self) -> Option<Self> {
        Some(self.keeping([self.bass?].into_iter().collect()))
    }

    /// So much of it.
    pub(super) fn keeping(&self, strings: StringSet) -> Self {
        Self { grip: self.grip.only(strings), bass: self.bass.filter(|bass| strings.contains(*bass)) }
    }

    /// Whether some of its strings are more than its bass alone.
    pub(super) fn is_more_than_bass(&self, strings: StringSet) -> bool {
        !strings.without(self.bass.into_iter().collect()).is_empty()
    }

    /// What it costs to keep only so much of it.
    pub(super) fn cut(&self, kept: &Grip, demand: &Demand) -> i64 {
        let gone = self.grip.holds().filter(|(string, _)| kept.hold(*string).is_none());
        gone.map(|(string, _)| worth::cut(self.bass == Some(string), demand.rings_on())).sum()
    }
}

/// What can be held beside a melody note.
pub(super) struct Beside<'a> {
    note: (StringIndex, Hold),
    melody: Held<'a>,
    /// For every string and hold: whether it can be held beside the note, once it is known.
    known: [Option<bool>; MAX_STRINGS * HOLDS],
}

impl<'a> Beside<'a> {
    /// Nothing known yet beside a melody note; none where no hand can hold the note itself.
    pub(super) fn new(reach: &'a Reach, note: (StringIndex, Hold)) -> Option<Self> {
        let melody = Held::new(reach, &Grip::from_holds([note]))?;
        Some(Self { note, melody, known: [None; MAX_STRINGS * HOLDS] })
    }

    /// Which of these strings of a grip can be held beside the note, each by itself.
    pub(super) fn one_by_one(&mut self, grip: &Grip, strings: StringSet) -> StringSet {
        let mut beside = StringSet::EMPTY;
        for string in strings.each() {
            let Some(hold) = grip.hold(string) else { continue };
            let slot = string.index() * HOLDS + usize::from(hold.packed());
            let melody = &self.melody;
            if *self.known[slot].get_or_insert_with(|| melody.takes(string, hold)) {
                beside.insert(string);
            }
        }
        beside
    }

    /// Whether these strings of a grip can be held together beside the note for certain, given that each of them can
    /// by itself and that a hand can hold the grip. That is so where every finger stops one string: then the rules of
    /// the hand concern two strings each.
    pub(super) fn needs_no_barre(&self, grip: &Grip, strings: StringSet) -> bool {
        let mut fingers: FingerSet = self.note.1.finger().into_iter().collect();
        strings.each().filter_map(|string| grip.hold(string)?.finger()).all(|finger| {
            let is_free = !fingers.contains(finger);
            fingers.insert(finger);
            is_free
        })
    }

    /// The most of a grip that a hand can hold together beside the note: the bass first, then inner notes from the
    /// highest.
    pub(super) fn together(&self, grip: &Grip, bass: Option<StringIndex>) -> StringSet {
        let mut held = self.melody.clone();
        let mut kept = StringSet::EMPTY;
        let first = bass.and_then(|bass| Some((bass, grip.hold(bass)?)));
        for (string, hold) in first.into_iter().chain(grip.holds().filter(|(s, _)| Some(*s) != bass)) {
            if held.takes(string, hold) {
                held.take(string, hold);
                kept.insert(string);
            }
        }
        kept
    }
}
