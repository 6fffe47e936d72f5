//! What rings into a moment, and what it costs to let it go.

use super::layer::Key;
use super::lines::is_below;
use super::worth;
use crate::demand::Demand;
use crate::grip::fingering::Held;
use crate::grip::{Grip, HOLDS, Hold, Reach, StringSet};
use crate::hand::{Finger, FingerSet};
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

    /// What it costs to keep only some of its strings: these are let go.
    pub(super) fn cut(&self, gone: StringSet, demand: &Demand) -> i64 {
        let bass = self.bass.is_some_and(|bass| gone.contains(bass));
        let inner = gone.len() as i64 - i64::from(bass);
        let cut = |is_bass| worth::cut(is_bass, demand.rings_on());
        inner * cut(false) + if bass { cut(true) } else { 0 }
    }
}

/// What can be held beside each of several ways to stop a melody note.
pub(super) struct Beside<'a> {
    notes: Vec<Note<'a>>,
    /// For every string and hold the notes beside which it can be held, once they are known.
    known: Vec<Option<NoteSet>>,
}

/// A way to stop a melody note, and the hand that does it; none where no hand can.
struct Note<'a> {
    finger: Option<Finger>,
    held: Option<Held<'a>>,
}

/// Some of the ways to stop a melody note, a bit each: there are fewer than fingers times strings.
#[derive(Clone, Copy, Default)]
pub(super) struct NoteSet(u64);

impl NoteSet {
    /// Whether the one with this number is among them.
    pub(super) const fn contains(self, number: usize) -> bool {
        self.0 >> number & 1 == 1
    }
}

/// For every string of a grip the notes beside which it can be held.
pub(super) type Fits = [NoteSet; MAX_STRINGS];

impl<'a> Beside<'a> {
    /// Nothing known yet beside these ways to stop a melody note.
    pub(super) fn new(reach: &'a Reach, notes: &[(StringIndex, Hold)]) -> Self {
        let note = |note: &(StringIndex, Hold)| Note {
            finger: note.1.finger(),
            held: Held::new(reach, &Grip::from_holds([*note])),
        };
        Self { notes: notes.iter().map(note).collect(), known: vec![None; MAX_STRINGS * HOLDS] }
    }

    /// The notes beside which each string of what rings can be held by itself, and those beside which more than its bass
    /// can.
    pub(super) fn fits(&mut self, ringing: &Ringing) -> (Fits, NoteSet) {
        let (mut fits, mut more_than_bass) = (Fits::default(), NoteSet::default());
        for (string, hold) in ringing.grip.holds() {
            let slot = string.index() * HOLDS + usize::from(hold.packed());
            let notes = &self.notes;
            let beside = *self.known[slot].get_or_insert_with(|| {
                let takes = |note: &Note<'_>| note.held.as_ref().is_some_and(|held| held.takes(string, hold));
                NoteSet(notes.iter().enumerate().fold(0, |all, (n, note)| all | u64::from(takes(note)) << n))
            });
            fits[string.index()] = beside;
            if ringing.bass != Some(string) {
                more_than_bass.0 |= beside.0;
            }
        }
        (fits, more_than_bass)
    }

    /// The most of what rings, of which these strings can be held beside a note each by itself, that a hand can hold
    /// together beside it: the bass first, then inner notes from the highest.
    pub(super) fn most(&self, ringing: &Ringing, one_by_one: StringSet, note: usize) -> StringSet {
        let Note { finger, held } = &self.notes[note];
        if needs_no_barre(&ringing.grip, one_by_one, *finger) {
            return one_by_one;
        }
        held.as_ref().map_or(StringSet::EMPTY, |held| together(held, &ringing.keeping(one_by_one)))
    }
}

/// Whether these strings of a grip can be held together beside the finger of a note for certain, given that each of them
/// can by itself and that a hand can hold the grip. That is so where every finger stops one string: then the rules of the
/// hand concern two strings each.
fn needs_no_barre(grip: &Grip, strings: StringSet, finger: Option<Finger>) -> bool {
    let mut fingers: FingerSet = finger.into_iter().collect();
    strings.each().filter_map(|string| grip.hold(string)?.finger()).all(|finger| {
        let is_free = !fingers.contains(finger);
        fingers.insert(finger);
        is_free
    })
}

/// The most of what rings that a hand can hold together besides what it holds.
fn together(held: &Held<'_>, Ringing { grip, bass }: &Ringing) -> StringSet {
    let mut held = held.clone();
    let mut kept = StringSet::EMPTY;
    let first = bass.and_then(|bass| Some((bass, grip.hold(bass)?)));
    for (string, hold) in first.into_iter().chain(grip.holds().filter(|(s, _)| Some(*s) != *bass)) {
        if held.takes(string, hold) {
            held.take(string, hold);
            kept.insert(string);
        }
    }
    kept
}
