//! The grips among which a moment chooses.

use super::worth;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::fingering::{can_hold, fingerings};
use crate::grip::ranking::each_grip;
use crate::grip::strain::grip_effort;
use crate::grip::{BassChoice, Grip, HandAt, Reach, StringSet, VoicingWish};
use crate::harmony::ToneSet;
use crate::neck::{MAX_STRINGS, Place, StringIndex};
use crate::pitch::Pitch;
use crate::plan::Lock;

/// How many strings a plain stroke sounds at most, the melody included: what four right-hand fingers pluck.
pub const PLAIN_STROKE: usize = 4;
/// How many sound under a rest of the melody.
const STROKE_UNDER_REST: usize = 3;
/// The highest accompaniment under a rest of the melody: G4, below where melodies lie.
const HIGHEST_UNDER_REST: Pitch = Pitch::new(67);

/// A grip that a moment could have, with what does not depend on the grip before.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Candidate {
    /// Everything that sounds.
    pub grip: Grip,
    /// The strings struck at this moment.
    pub struck: StringSet,
    /// The melody's string.
    pub melody: Option<StringIndex>,
    /// The bass's string.
    pub bass: Option<StringIndex>,
    /// Effort of the grip less what it is worth to the ear.
    pub cost: i64,
}

/// The strokes of a search, each worked out once: tunes say the same thing again and again.
#[derive(Debug)]
pub struct Strokes<'a> {
    reach: &'a Reach,
    known: Vec<(Question, Candidates)>,
}

/// The candidates of a stroke in the order of their grips, and the hands that hold them.
#[derive(Debug)]
pub struct Candidates {
    /// The candidates, each with the index of its hand.
    pub all: Vec<(Candidate, u32)>,
    /// Every hand once: grips that differ in open strings have the same.
    pub hands: Vec<HandAt>,
}

/// What the candidates of a stroke depend on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Question {
    melody: Option<Pitch>,
    begins: bool,
    wanted: Accompaniment,
    lock: Lock,
    held: Grip,
    hook: Option<StringIndex>,
}

impl<'a> Strokes<'a> {
    /// Nothing worked out yet.
    pub const fn new(reach: &'a Reach) -> Self {
        Self { reach, known: Vec::new() }
    }

    /// Every grip for a stroke: the accompaniment under a melody note that begins, rests, or is held as `held` says.
    ///
    /// The melody alone is always among them: bass and inner voices may give way.
    pub fn of(&mut self, demand: &Demand, wanted: Accompaniment, held: &Grip) -> &Candidates {
        self.beside(demand, wanted, held, None)
    }

    /// The same where notes of lines are held, or struck too and given as held. `hook` is the string of a hook among
    /// them: it lies above the bass, or above nothing where the bass gives way.
    pub(super) fn beside(
        &mut self,
        demand: &Demand,
        wanted: Accompaniment,
        held: &Grip,
        hook: Option<StringIndex>,
    ) -> &Candidates {
        let begins = matches!(demand.melody, MelodyDemand::Begins { .. });
        let question =
            Question { melody: demand.melody.pitch(), begins, wanted, lock: demand.lock, held: *held, hook };
        let known = self.known.iter().position(|(asked, _)| *asked == question).unwrap_or_else(|| {
            let candidates = Candidates::new(self.reach, strokes(self.reach, demand, wanted, held, hook));
            self.known.push((question, candidates));
            self.known.len() - 1
        });
        &self.known[known].1
    }
}

impl Candidates {
    fn new(reach: &Reach, mut all: Vec<Candidate>) -> Self {
        all.sort_unstable_by_key(|candidate| candidate.grip.packed());
        let mut held: Vec<(HandAt, u32)> =
            all.iter().map(|candidate| HandAt::holding(reach, &candidate.grip)).zip(0..).collect();
        held.sort_unstable();
        let mut hands: Vec<HandAt> = Vec::new();
        let mut hand_of = vec![0; all.len()];
        for (hand, candidate) in held {
            if hands.last() != Some(&hand) {
                hands.push(hand);
            }
            hand_of[candidate as usize] = hands.len() as u32 - 1;
        }
        Self { all: all.into_iter().zip(hand_of).collect(), hands }
    }
}

fn strokes(
    reach: &Reach,
    demand: &Demand,
    wanted: Accompaniment,
    held: &Grip,
    hook: Option<StringIndex>,
) -> Vec<Candidate> {
    let mut all = Vec::new();
    let wish = wish(demand, wanted, held, reach);
    let mut add = |grip: Grip| {
        if let Some(candidate) = candidate(reach, demand, wanted, held, hook, grip) {
            all.push(candidate);
        }
    };
    if let Some(locked) = demand.lock.grip {
        // A locked grip says everything, fingers included.
        let grip = held.with(&locked);
        if grip.len() == held.len() + locked.len() && can_hold(reach, &grip) {
            add(grip);
        }
    } else {
        each_grip(reach, &wish, &mut add);
        melody_alone(reach, demand, held, add);
    }
    all
}

/// What a stroke asks of the enumeration.
pub fn wish(demand: &Demand, wanted: Accompaniment, held: &Grip, reach: &Reach) -> VoicingWish {
    let melody = demand.melody.pitch();
    let most =
        if melody.is_some() { PLAIN_STROKE.min(reach.hand().plucks_at_once()) } else { STROKE_UNDER_REST };
    let least = if melody.is_some() { 2 } else { 1 };
    VoicingWish {
        melody,
        melody_string: demand.lock.melody,
        bass: wanted.bass,
        tones: wanted.tones,
        required: ToneSet::EMPTY,
        notes: least..=most,
        held: *held,
    }
}

/// The melody with nothing beneath it.
fn melody_alone(reach: &Reach, demand: &Demand, held: &Grip, mut add: impl FnMut(Grip)) {
    match demand.melody {
        MelodyDemand::Begins { pitch, .. } => {
            melody_places(reach, demand, pitch, |place| {
                fingerings(reach, &[(place.string, place.fret)].into_iter().collect(), held, &mut add);
            });
        }
        MelodyDemand::SoundsOn { .. } | MelodyDemand::Rest => add(*held),
    }
}

/// Calls `found` with every place where the melody note may sound, the locked string alone where one is locked.
pub fn melody_places(reach: &Reach, demand: &Demand, pitch: Pitch, mut found: impl FnMut(Place)) {
    let free = |place: &Place| demand.lock.melody.is_none_or(|only| only == place.string);
    reach.instrument().places(pitch).filter(free).for_each(&mut found);
}

/// Sorts a grip's strings into parts and adds up what it costs; none where the parts do not fit the demand.
fn candidate(
    reach: &Reach,
    demand: &Demand,
    wanted: Accompaniment,
    held: &Grip,
    hook: Option<StringIndex>,
    grip: Grip,
) -> Option<Candidate> {
    let mut melody = None;
    let mut inner = [Pitch::new(0); MAX_STRINGS];
    let mut count = 0;
    let mut bass: Option<(Pitch, StringIndex)> = None;
    let mut figure = None;
    for (string, hold) in grip.holds() {
        let pitch = reach.instrument().sounding(Place { string, fret: hold.fret })?;
        if Some(pitch) == demand.melody.pitch() && melody.is_none() {
            melody = Some(string);
            continue;
        }
        if demand.melody.pitch().is_some_and(|top| pitch >= top)
            || (demand.melody.pitch().is_none()
                && pitch > HIGHEST_UNDER_REST
                && demand.lock.grip.is_none()
                && Some(string) != hook)
        {
            return None;
        }
        if Some(string) == hook {
            figure = Some(pitch);
        } else if bass.is_none_or(|(lowest, _)| pitch < lowest) {
            bass = Some((pitch, string));
        }
        inner[count] = pitch;
        count += 1;
    }
    let free_bass = demand.lock.grip.is_some() || wanted.bass == BassChoice::Free;
    let bass = bass.filter(|(pitch, _)| free_bass || wanted.bass.admits(*pitch));
    let in_order = figure.is_none_or(|hook| bass.map_or(count == 1, |(pitch, _)| pitch < hook));
    let inner = &mut inner[..count];
    inner.sort_unstable();
    let between = &inner[usize::from(bass.is_some())..];
    let worth = worth::accompaniment(&wanted, demand.melody.pitch(), bass.map(|(pitch, _)| pitch), between);
    // A locked string is kept wherever the melody sounds, under a locked grip and in mid-note too.
    let on_its_string = demand.lock.melody.is_none_or(|only| melody.is_none_or(|string| string == only));
    let fits = in_order && on_its_string && demand.melody.pitch().is_none() == melody.is_none();
    let cost = i64::from(grip_effort(reach, &grip).total().points() - worth);
    fits.then_some(Candidate {
        grip,
        struck: grip.strings().without(held.strings()),
        melody,
        bass: bass.map(|(_, string)| string),
        cost,
    })
}
