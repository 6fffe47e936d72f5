//! What a hand lets go of where it cannot keep everything that sounds on.

use std::collections::BTreeSet;

use super::layer::State;
use crate::demand::{Part, WrittenDemand};
use crate::grip::{Grip, Reach, StringSet};
use crate::neck::StringIndex;

/// How much is let go: less is better, and a note of higher part rank weighs more than all those below it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct LetGo(u32);

impl LetGo {
    /// Everything is kept.
    pub(super) const NOTHING: Self = Self(0);

    /// With a note of a part let go as well; a byte counts the notes of each part, of which there are ten at most.
    const fn and(self, part: Part) -> Self {
        let byte = match part {
            Part::Melody => 3,
            Part::Bass => 2,
            Part::Hook => 1,
            // A tap never sounds on.
            Part::Inner | Part::Tap => 0,
        };
        Self(self.0 + (1 << (8 * byte)))
    }

    /// What is let go on the way from one grip to the next.
    pub(super) fn between(reach: &Reach, before: &Grip, after: &Grip, demand: &WrittenDemand) -> Self {
        let before = before.ringing();
        let gone = sounding_on(reach, &before, demand)
            .filter(|(string, _)| before.hold(*string) != after.hold(*string));
        gone.fold(Self::NOTHING, |let_go, (_, part)| let_go.and(part))
    }
}

/// The strings that should sound on, and whose notes they carry.
fn sounding_on<'a>(
    reach: &'a Reach,
    grip: &'a Grip,
    demand: &'a WrittenDemand,
) -> impl Iterator<Item = (StringIndex, Part)> + 'a {
    grip.holds().filter_map(|(string, hold)| {
        let pitch = reach.sounds(string, hold)?;
        let note = demand.sounding_on.iter().find(|note| note.pitch == pitch)?;
        Some((string, note.part))
    })
}

/// Every way to keep what sounds on but for exactly so much; natural harmonics ring without their fingers.
pub(super) fn each_kept(
    reach: &Reach,
    grip: &Grip,
    demand: &WrittenDemand,
    let_go: LetGo,
    mut kept: impl FnMut(Grip),
) {
    if let_go == LetGo::NOTHING {
        kept(grip.only(sounding_on(reach, grip, demand).map(|(string, _)| string).collect()).ringing());
        return;
    }
    each_way(reach, grip, demand, |strings, would_go| {
        if would_go == let_go {
            kept(grip.only(strings).ringing());
        }
    });
}

/// Everything that could be let go from some state, the least first.
pub(super) fn each_let_go(reach: &Reach, before: &[State], demand: &WrittenDemand) -> BTreeSet<LetGo> {
    let mut all = BTreeSet::new();
    for state in before {
        each_way(reach, &state.key.grip, demand, |_, let_go| {
            all.insert(let_go);
        });
    }
    all
}

/// Every set of strings that may be kept of what sounds on, with what is let go then.
fn each_way(reach: &Reach, grip: &Grip, demand: &WrittenDemand, mut found: impl FnMut(StringSet, LetGo)) {
    let sounding: Vec<(StringIndex, Part)> = sounding_on(reach, grip, demand).collect();
    for kept in 0..1_u32 << sounding.len() {
        let mut strings = StringSet::EMPTY;
        let mut let_go = LetGo::NOTHING;
        for (index, (string, part)) in sounding.iter().enumerate() {
            if kept >> index & 1 == 1 {
                strings.insert(*string);
            } else {
                let_go = let_go.and(*part);
            }
        }
        found(strings, let_go);
    }
}
