//! The grips among which a moment chooses.

use std::sync::{Mutex, PoisonError};

use super::worth;
use crate::demand::{Accompaniment, Demand, MelodyDemand};
use crate::grip::fingering::{can_hold, fingerings};
use crate::grip::strain::grip_effort;
use crate::grip::voicings::voicings;
use crate::grip::{BassChoice, Grip, HandAt, Reach, Voicing, VoicingWish};
use crate::harmony::ToneSet;
use crate::neck::{MAX_STRINGS, Place, StringIndex};
use crate::pitch::Pitch;
use crate::plan::Lock;
use crate::watch::{Piece, Watch};

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
    /// The melody's string.
    pub melody: Option<StringIndex>,
    /// The bass's string.
    pub bass: Option<StringIndex>,
    /// Effort of the grip less what it is worth to the ear.
    pub cost: i64,
}

/// How many candidates are kept before those are forgotten that the last search did not ask for.
const MOST_KEPT: usize = 200_000;

/// The strokes of searches, each worked out once: tunes say the same thing again and again.
#[derive(Debug, Default)]
pub struct Strokes {
    known: Vec<Known>,
    /// How many searches there were.
    searches: u32,
}

#[derive(Debug)]
struct Known {
    question: Question,
    candidates: Candidates,
    /// The last search that asked.
    search: u32,
}

/// The candidates of a stroke in the order of their grips, and the hands that hold them.
#[derive(Debug)]
pub struct Candidates {
    all: Vec<(Candidate, HandAt)>,
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

impl Strokes {
    /// Every grip for a stroke: the accompaniment under a melody note that begins, rests, or is held as `held` says.
    ///
    /// The melody alone is always among them: bass and inner voices may give way. The reach is the same every time.
    pub fn of(&mut self, reach: &Reach, demand: &Demand, wanted: Accompaniment, held: &Grip) -> &Candidates {
        self.beside(&Stroke { reach, demand, wanted, held, hook: None })
    }

    /// The same where notes of lines are held, or struck too and given as held.
    pub(super) fn beside(&mut self, stroke: &Stroke<'_>) -> &Candidates {
        let question = stroke.question();
        let index = self.position(&question).unwrap_or_else(|| {
            let candidates = Candidates::new(stroke);
            self.known.push(Known { question, candidates, search: self.searches });
            self.known.len() - 1
        });
        let known = &mut self.known[index];
        known.search = self.searches;
        &known.candidates
    }

    /// Works out the strokes that some demands ask for whatever was before, several at once where processors are lent.
    pub(super) fn prepare(&mut self, reach: &Reach, demands: &[Demand], watch: &dyn Watch) {
        let mut strokes: Vec<(Question, Stroke<'_>)> = Vec::new();
        for demand in demands.iter().filter(|demand| demand.lines.are_silent()) {
            let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
            let Some(wanted) = demand.accompaniment.filter(|_| !sounds_on) else { continue };
            let stroke = Stroke { reach, demand, wanted, held: &Grip::SILENT, hook: None };
            let question = stroke.question();
            let is_new =
                self.position(&question).is_none() && strokes.iter().all(|(known, _)| *known != question);
            if is_new {
                strokes.push((question, stroke));
            }
        }
        let found = Mutex::new(Vec::with_capacity(strokes.len()));
        let pieces = strokes.iter().map(|(question, stroke)| -> Piece<'_> {
            Box::new(|| {
                if !watch.should_stop() {
                    let candidates = Candidates::new(stroke);
                    let mut found = found.lock().unwrap_or_else(PoisonError::into_inner);
                    found.push(Known { question: *question, candidates, search: self.searches });
                }
            })
        });
        watch.side_by_side(pieces.collect());
        self.known.append(&mut found.into_inner().unwrap_or_else(PoisonError::into_inner));
    }

    fn position(&self, question: &Question) -> Option<usize> {
        self.known.iter().position(|known| known.question == *question)
    }

    /// A search begins: where much is kept, what the last one did not ask for is forgotten.
    pub(super) fn begin_search(&mut self) {
        if self.known.iter().map(|known| known.candidates.len()).sum::<usize>() > MOST_KEPT {
            self.known.retain(|known| known.search == self.searches);
        }
        self.searches += 1;
    }
}

impl Candidates {
    fn new(stroke: &Stroke<'_>) -> Self {
        let mut all = stroke.all();
        all.sort_unstable_by_key(|candidate| candidate.grip.packed());
        let hand = |candidate: Candidate| (candidate, HandAt::holding(stroke.reach, &candidate.grip));
        Self { all: all.into_iter().map(hand).collect() }
    }

    /// How many there are.
    pub const fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether there are none.
    pub const fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Every candidate with the hand that holds it.
    pub fn all(&self) -> &[(Candidate, HandAt)] {
        &self.all
    }
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

/// Calls `found` with every place where the melody note may sound, the locked string alone where one is locked.
pub fn melody_places(reach: &Reach, demand: &Demand, pitch: Pitch, mut found: impl FnMut(Place)) {
    let free = |place: &Place| demand.lock.melody.is_none_or(|only| only == place.string);
    reach.instrument().places(pitch).filter(free).for_each(&mut found);
}

/// What a stroke is asked to be.
pub(super) struct Stroke<'a> {
    pub(super) reach: &'a Reach,
    pub(super) demand: &'a Demand,
    pub(super) wanted: Accompaniment,
    pub(super) held: &'a Grip,
    /// The string of a hook among what is held: it lies above the bass, or above nothing where the bass gives way.
    pub(super) hook: Option<StringIndex>,
}

/// The parts that the strings of a voicing have: the same under any fingers.
#[derive(Clone, Copy)]
struct Parts {
    melody: Option<StringIndex>,
    bass: Option<StringIndex>,
    /// What it is worth to the ear.
    worth: i32,
}

impl Stroke<'_> {
    /// What its candidates depend on.
    fn question(&self) -> Question {
        let Self { demand, wanted, held, hook, .. } = *self;
        let begins = matches!(demand.melody, MelodyDemand::Begins { .. });
        Question { melody: demand.melody.pitch(), begins, wanted, lock: demand.lock, held: *held, hook }
    }

    /// Every grip for it.
    fn all(&self) -> Vec<Candidate> {
        let Self { reach, demand, wanted, held, .. } = *self;
        let mut all = Vec::new();
        if let Some(locked) = demand.lock.grip {
            // A locked grip says everything, fingers included.
            let grip = held.with(&locked);
            if grip.len() == held.len() + locked.len() && can_hold(reach, &grip) {
                let parts = self.parts(&grip.voicing());
                all.extend(parts.map(|parts| self.candidate(parts, grip)));
            }
        } else {
            voicings(reach.instrument(), Some(reach), &wish(demand, wanted, held, reach), |voicing| {
                self.add(&voicing, &mut all);
            });
            self.add_melody_alone(&mut all);
        }
        all
    }

    /// Adds every way to hold a voicing.
    fn add(&self, voicing: &Voicing, all: &mut Vec<Candidate>) {
        if let Some(parts) = self.parts(voicing) {
            fingerings(self.reach, voicing, self.held, |grip| all.push(self.candidate(parts, grip)));
        }
    }

    /// Adds the melody with nothing beneath it.
    fn add_melody_alone(&self, all: &mut Vec<Candidate>) {
        match self.demand.melody {
            MelodyDemand::Begins { pitch, .. } => melody_places(self.reach, self.demand, pitch, |place| {
                self.add(&[(place.string, place.fret)].into_iter().collect(), all);
            }),
            MelodyDemand::SoundsOn { .. } | MelodyDemand::Rest => self.add(&Voicing::SILENT, all),
        }
    }

    fn candidate(&self, Parts { melody, bass, worth }: Parts, grip: Grip) -> Candidate {
        let cost = i64::from(grip_effort(self.reach, &grip).total().points() - worth);
        Candidate { grip, melody, bass, cost }
    }

    /// Sorts the strings that sound, held ones included, into parts; none where they do not fit the demand.
    fn parts(&self, voicing: &Voicing) -> Option<Parts> {
        let Self { demand, wanted, .. } = self;
        let top = demand.melody.pitch();
        let mut melody = None;
        let mut inner = [Pitch::new(0); MAX_STRINGS];
        let mut count = 0;
        let mut bass: Option<(Pitch, StringIndex)> = None;
        let mut figure = None;
        let mut sounding = *voicing;
        for (string, hold) in self.held.holds() {
            sounding.set(string, Some(hold.fret()));
        }
        for place in sounding.places() {
            let pitch = self.reach.instrument().sounding(place)?;
            if Some(pitch) == top && melody.is_none() {
                melody = Some(place.string);
                continue;
            }
            let is_hook = Some(place.string) == self.hook;
            let too_high = match top {
                Some(top) => pitch >= top,
                None => pitch > HIGHEST_UNDER_REST && demand.lock.grip.is_none() && !is_hook,
            };
            if too_high {
                return None;
            }
            if is_hook {
                figure = Some(pitch);
            } else if bass.is_none_or(|(lowest, _)| pitch < lowest) {
                bass = Some((pitch, place.string));
            }
            inner[count] = pitch;
            count += 1;
        }
        // A locked string is kept wherever the melody sounds, under a locked grip and in mid-note too.
        let on_its_string = demand.lock.melody.is_none_or(|only| melody.is_none_or(|string| string == only));
        if !on_its_string || top.is_none() != melody.is_none() {
            return None;
        }
        let free_bass = demand.lock.grip.is_some() || wanted.bass == BassChoice::Free;
        let bass = bass.filter(|(pitch, _)| free_bass || wanted.bass.admits(*pitch));
        if figure.is_some_and(|hook| bass.map_or(count > 1, |(pitch, _)| pitch >= hook)) {
            return None;
        }
        let inner = &mut inner[..count];
        inner.sort_unstable();
        let between = &inner[usize::from(bass.is_some())..];
        let worth = worth::accompaniment(wanted, top, bass.map(|(pitch, _)| pitch), between);
        Some(Parts { melody, bass: bass.map(|(_, string)| string), worth })
    }
}
