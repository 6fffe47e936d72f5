//! Changes that an arranger makes to the work, as values with names.
//!
//! An edit knows how to change a [`Work`] and what to call the change; [`super::History`] remembers it. Edits are all
//! that ever changes a work, in the window and without one.

mod tune;

use std::ops::Range;

use super::arrangement::Work;
use crate::grip::{BassChoice, Grip};
use crate::hand::Hand;
use crate::neck::{Instrument, StringIndex};
use crate::pitch::Interval;
use crate::plan::{Aim, Lie, Lock, Locks};
use crate::time::Ticks;
use crate::tune::{Mend, MendFault, Tune};

/// One change of the work.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Edit {
    /// Mends the tune. Locks move along with their bars; those whose moment or melody note has gone are released.
    Tune(Mend),
    /// Locks the melody note of a moment to a string, or releases it.
    MelodyString {
        /// The moment.
        at: Ticks,
        /// The string, none to release it.
        string: Option<StringIndex>,
    },
    /// Locks what is lowest at a moment, or releases it.
    Bass {
        /// The moment.
        at: Ticks,
        /// The bass, none to release it.
        bass: Option<BassChoice>,
    },
    /// Locks the strings struck at a moment with their fingers, or releases them.
    Grip {
        /// The moment.
        at: Ticks,
        /// The struck strings, none to release them.
        grip: Option<Grip>,
    },
    /// Locks the grips of a passage all at once, in place of every grip that was locked in it.
    TakePassage {
        /// From when until before when.
        passage: Range<Ticks>,
        /// The struck strings of its moments.
        grips: Vec<(Ticks, Grip)>,
    },
    /// Releases everything that is locked in a passage.
    ReleasePassage {
        /// From when until before when.
        passage: Range<Ticks>,
    },
    /// Sets how far the arrangement sounds from the tune as written. Locked grips and strings are released, since
    /// other pitches lie elsewhere; a locked bass moves along.
    Transpose(Interval),
    /// Sets the instrument. Locked grips and strings are released when a string sounds another pitch than before.
    Instrument(Instrument),
    /// Sets key, tuning and capo at once. Locked grips and strings are released; a locked bass moves along.
    Lie(Lie),
    /// Sets the player's hands.
    Hand(Hand),
    /// Sets what the search makes smallest.
    Aim(Aim),
}

impl Edit {
    /// Changes the work; one that [`Self::check`] refuses leaves it as it is.
    pub fn apply(&self, work: &mut Work) {
        let plan = &mut work.plan;
        match self {
            Self::Tune(mend) => tune::apply(mend, work),
            Self::MelodyString { at, string } => change(&mut plan.locks, *at, |l| l.melody = *string),
            Self::Bass { at, bass } => change(&mut plan.locks, *at, |l| l.bass = *bass),
            Self::Grip { at, grip } => change(&mut plan.locks, *at, |l| l.grip = *grip),
            Self::TakePassage { passage, grips } => {
                for at in locked_in(&plan.locks, passage) {
                    change(&mut plan.locks, at, |l| l.grip = None);
                }
                for (at, grip) in grips {
                    change(&mut plan.locks, *at, |l| l.grip = Some(*grip));
                }
            }
            Self::ReleasePassage { passage } => {
                for at in locked_in(&plan.locks, passage) {
                    plan.locks.set(at, Lock::default());
                }
            }
            Self::Transpose(interval) => {
                let further = Interval::new(interval.semitones() - plan.transpose.semitones());
                if further != Interval::default() {
                    plan.locks = basses_only(&plan.locks, further);
                    plan.transpose = *interval;
                }
            }
            Self::Instrument(instrument) => {
                if open_strings(instrument) != open_strings(&plan.instrument) {
                    plan.locks = basses_only(&plan.locks, Interval::default());
                }
                plan.instrument = instrument.clone();
            }
            Self::Lie(lie) => {
                if *lie != plan.lie() {
                    let further = Interval::new(lie.transpose.semitones() - plan.transpose.semitones());
                    plan.locks = basses_only(&plan.locks, further);
                    plan.transpose = lie.transpose;
                    plan.instrument = lie.instrument.clone();
                }
            }
            Self::Hand(hand) => plan.hand = *hand,
            Self::Aim(aim) => plan.aim = *aim,
        }
    }

    /// Whether the change can be made.
    ///
    /// # Errors
    /// A sentence why not.
    pub fn check(&self, work: &Work) -> Result<(), MendFault> {
        match self {
            Self::Tune(mend) => mend.apply(&work.tune).map(|_| ()),
            _ => Ok(()),
        }
    }

    /// The change as a player says it: `Lock the grip in bar 7, beat 2`.
    pub fn label(&self, tune: &Tune) -> String {
        let place = |at: Ticks| tune.bar_beat(at);
        match self {
            Self::Tune(mend) => tune::label(mend, tune),
            Self::MelodyString { at, string: Some(s) } => {
                format!("Lock the melody to string {s} in {}", place(*at))
            }
            Self::MelodyString { at, string: None } => {
                format!("Release the melody's string in {}", place(*at))
            }
            Self::Bass { at, bass: Some(_) } => format!("Lock the bass in {}", place(*at)),
            Self::Bass { at, bass: None } => format!("Release the bass in {}", place(*at)),
            Self::Grip { at, grip: Some(_) } => format!("Lock the grip in {}", place(*at)),
            Self::Grip { at, grip: None } => format!("Release the grip in {}", place(*at)),
            Self::TakePassage { passage, .. } => format!("Lock the grips of {}", bars(tune, passage)),
            Self::ReleasePassage { passage } => format!("Release the locks of {}", bars(tune, passage)),
            Self::Transpose(interval) => match interval.semitones() {
                0 => "Play the tune as written".to_owned(),
                n if n > 0 => format!("Play the tune {n} semitones higher"),
                n => format!("Play the tune {} semitones lower", -n),
            },
            Self::Instrument(instrument) => format!("Tune to {}", tuning_and_capo(instrument)),
            Self::Lie(lie) => {
                let key = tune.bars()[0].key.transposed(lie.transpose).0;
                format!("Play in {key:#}, {}", tuning_and_capo(&lie.instrument))
            }
            Self::Hand(_) => "Change the hand".to_owned(),
            Self::Aim(Aim::LeastTotal) => "Look for the least effort in all".to_owned(),
            Self::Aim(Aim::Gentlest) => "Look for the gentlest hardest move".to_owned(),
        }
    }

    /// Whether two edits in one gesture are one step: the same kind of change at the same moment.
    pub(super) fn joins(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Tune(a), Self::Tune(b)) => tune::joins(a, b),
            (Self::MelodyString { at: a, .. }, Self::MelodyString { at: b, .. })
            | (Self::Bass { at: a, .. }, Self::Bass { at: b, .. })
            | (Self::Grip { at: a, .. }, Self::Grip { at: b, .. }) => a == b,
            _ => std::mem::discriminant(self) == std::mem::discriminant(other),
        }
    }
}

/// A passage by its bars: `bar 5` or `bars 5 to 8`.
pub fn bars(tune: &Tune, passage: &Range<Ticks>) -> String {
    let number = |at: Ticks| tune.bar_beat(at).bar;
    let first = number(passage.start);
    // The end of a passage belongs to what follows.
    let last = number(passage.start.max(passage.end - Ticks::new(1)));
    if first == last { format!("bar {first}") } else { format!("bars {first} to {last}") }
}

/// `drop D`, `drop D, capo at fret 2`
fn tuning_and_capo(instrument: &Instrument) -> String {
    match instrument.capo() {
        0 => instrument.tuning().name().to_owned(),
        capo => format!("{}, capo at fret {capo}", instrument.tuning().name()),
    }
}

fn change(locks: &mut Locks, at: Ticks, how: impl FnOnce(&mut Lock)) {
    let mut lock = locks.at(at);
    how(&mut lock);
    locks.set(at, lock);
}

fn locked_in(locks: &Locks, passage: &Range<Ticks>) -> Vec<Ticks> {
    locks.iter().map(|(at, _)| at).filter(|at| passage.contains(at)).collect()
}

/// What is locked of basses, moved as far as the tune moves: strings and grips belong to the notes of before.
pub(super) fn basses_only(locks: &Locks, further: Interval) -> Locks {
    let mut kept = Locks::default();
    for (at, lock) in locks.iter() {
        let bass = lock.bass.map(|bass| match bass {
            BassChoice::Free => BassChoice::Free,
            BassChoice::Class(class) => BassChoice::Class(class + further),
            BassChoice::Exact(pitch) => {
                pitch.checked_add(further).map_or(BassChoice::Free, BassChoice::Exact)
            }
        });
        kept.set(at, Lock { bass, ..Lock::default() });
    }
    kept
}

fn open_strings(instrument: &Instrument) -> Vec<crate::pitch::Pitch> {
    instrument.strings().map(|s| instrument.open_pitch(s)).collect()
}
