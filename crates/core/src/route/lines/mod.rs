//! A written bass line and hooks on the way: what of them sounds, what is struck of them, and what it costs to lose it.
//!
//! `stroke` strikes the accompaniment together with them, `song` lets them go on, alone or with the melody, over what
//! rings. A note of a line is kept when it is struck where it begins; until it ends it stays on its string under its
//! finger, or is let go. The bass line is lowest, and a hook lies above it; both lie below the melody.

mod song;
mod stroke;

pub(super) use song::sing;
pub(super) use stroke::strike;

use super::layer::Key;
use crate::demand::{Demand, LineDemand, MelodyDemand};
use crate::grip::{Grip, Hold, Reach, StringSet};
use crate::hand::Finger;
use crate::neck::{Place, StringIndex};
use crate::pitch::Pitch;

/// What it costs that a note of a hook does not sound. A hook gives way before a bass does, and after everything else: one note less saves some hundred points of effort where it stands and in the
/// moves around it, never so many.
const HOOK_LOST: i64 = 10_000;
/// What it costs to let a note of the bass line go that was struck: less than never to strike it, more than any hook.
const BASS_LET_GO: i64 = 20_000;
/// The same for a note of a hook.
const HOOK_LET_GO: i64 = 3_000;

/// The strings on which notes of lines sound.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct LineStrings {
    /// Of the bass line.
    pub bass: Option<StringIndex>,
    /// Of a hook.
    pub hook: Option<StringIndex>,
}

impl LineStrings {
    /// Nothing of them sounds.
    pub const NONE: Self = Self { bass: None, hook: None };

    /// As a number of eight bits.
    pub(super) fn packed(self) -> u128 {
        let string = |s: Option<StringIndex>| s.map_or(0, |s| u128::from(s.number()));
        string(self.bass) << 4 | string(self.hook)
    }

    /// The strings on which they sound.
    pub(super) fn strings(self) -> StringSet {
        self.bass.into_iter().chain(self.hook).collect()
    }

    /// What sounds on of them under a demand.
    fn sounding_on(self, demand: &Demand) -> Self {
        let on =
            |line: LineDemand, string: Option<StringIndex>| string.filter(|_| line.sounds_on().is_some());
        Self { bass: on(demand.lines.bass, self.bass), hook: on(demand.lines.hook, self.hook) }
    }

    /// All of them, and with one or both let go.
    fn parts(self) -> impl Iterator<Item = Self> {
        let one_less = |string: Option<StringIndex>| string.map(|_| None);
        let basses = [self.bass].into_iter().chain(one_less(self.bass));
        basses.flat_map(move |bass| {
            let hooks = [self.hook].into_iter().chain(one_less(self.hook));
            hooks.map(move |hook| Self { bass, hook })
        })
    }
}

/// What may be kept of the lines of a state: all that sounds on below the melody, and with one or both let go.
fn keepable(reach: &Reach, key: &Key, demand: &Demand) -> impl Iterator<Item = LineStrings> {
    let LineStrings { bass, hook } = key.lines.sounding_on(demand);
    let below = |string: &StringIndex| sounds(reach, &key.grip, *string).is_some_and(|p| is_below(p, demand));
    LineStrings { bass: bass.filter(below), hook: hook.filter(below) }.parts()
}

/// Whether a note of the bass line begins between strokes and is not struck. Under a stroke it is the stroke's bass.
fn loses_bass(demand: &Demand, now: LineStrings) -> bool {
    demand.accompaniment.is_none() && demand.lines.bass.begins().is_some() && now.bass.is_none()
}

/// What it costs that a note of a hook begins and is not struck.
fn unstruck(demand: &Demand, now: LineStrings) -> i64 {
    if demand.lines.hook.begins().is_some() && now.hook.is_none() { HOOK_LOST } else { 0 }
}

/// What it costs that notes do not sound on which did.
fn let_go(demand: &Demand, before: LineStrings, now: LineStrings) -> i64 {
    let before = before.sounding_on(demand);
    let bass = before.bass.is_some() && now.bass.is_none();
    let hook = before.hook.is_some() && now.hook.is_none();
    (if bass { BASS_LET_GO } else { 0 }) + (if hook { HOOK_LET_GO } else { 0 })
}

/// The strings that are struck on the way to a state.
pub(super) fn struck(demand: &Demand, key: &Key) -> StringSet {
    let on = key.lines.sounding_on(demand).strings();
    let begins = [(demand.lines.bass, key.lines.bass), (demand.lines.hook, key.lines.hook)];
    let begins = begins.into_iter().filter_map(|(line, string)| string.filter(|_| line.begins().is_some()));
    let mut struck =
        if demand.accompaniment.is_some() { key.grip.strings().without(on) } else { begins.collect() };
    if let Some(melody) = key.melody {
        if matches!(demand.melody, MelodyDemand::Begins { .. }) {
            struck.insert(melody);
        } else {
            struck.remove(melody);
        }
    }
    struck
}

/// The melody note of a state that sounds on under a demand.
fn melody_on(key: &Key, demand: &Demand) -> Option<StringIndex> {
    key.melody.filter(|_| matches!(demand.melody, MelodyDemand::SoundsOn { .. }))
}

/// What lies below the melody of a demand.
pub(super) fn is_below(pitch: Pitch, demand: &Demand) -> bool {
    demand.melody.pitch().is_none_or(|melody| pitch < melody)
}

/// Every way to sound a pitch by itself.
fn holds(reach: &Reach, pitch: Pitch) -> impl Iterator<Item = (StringIndex, Hold)> + '_ {
    reach.instrument().places(pitch).flat_map(|place| holds_at(reach, place))
}

/// Every way to sound a place by itself.
pub(super) fn holds_at(
    reach: &Reach,
    Place { string, fret }: Place,
) -> impl Iterator<Item = (StringIndex, Hold)> {
    let open = fret.is_open().then_some(Hold::OPEN);
    let thumb = Some(Finger::Thumb).filter(|_| reach.thumb_may_hold(string));
    let digits = thumb.into_iter().chain(Finger::FOUR).filter(move |_| !fret.is_open());
    open.into_iter()
        .chain(digits.map(move |finger| Hold::stopped(fret, finger)))
        .map(move |hold| (string, hold))
}

/// What a string of a grip sounds.
fn sounds(reach: &Reach, grip: &Grip, string: StringIndex) -> Option<Pitch> {
    grip.hold(string)?.sounds(reach.instrument(), string)
}
