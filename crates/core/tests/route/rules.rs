//! The rules of a route, moment by moment, stated without the search: what may follow a state and what it costs.
//!
//! Whether a hand can hold something is asked of the independent check, never of the search's own geometry. The grips
//! of a stroke come from the plain enumeration, which has its own comparison with brute force.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use handspan_core::check;
use handspan_core::demand::{Accompaniment, Demand, MelodyDemand};
use handspan_core::grip::moves::{HandAt, move_effort};
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{Grip, Hold, Reach, StringSet, grips};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::route::{LineStrings, candidates, worth};
use handspan_core::time::Ticks;

/// What a bass costs that gives way.
pub(crate) const BASS_LOST: i64 = 1_000_000_000;
/// G4: nothing sounds above it under a rest of the melody, unless a grip is locked.
pub(crate) const HIGHEST_UNDER_REST: Pitch = Pitch::new(67);

/// A string with how it sounds.
pub(crate) type Note = (StringIndex, Hold);

/// What the hand does once a moment has begun.
#[derive(Clone, Copy)]
pub(crate) struct State {
    pub(crate) grip: Grip,
    pub(crate) melody: Option<StringIndex>,
    pub(crate) bass: Option<StringIndex>,
    pub(crate) lines: LineStrings,
    position: Option<Fret>,
    hand: HandAt,
}

/// One way to go on.
pub(crate) struct Choice {
    pub(crate) grip: Grip,
    pub(crate) struck: StringSet,
    pub(crate) melody: Option<StringIndex>,
    pub(crate) bass: Option<StringIndex>,
    pub(crate) lines: LineStrings,
    /// What it costs but for the move.
    pub(crate) cost: i64,
    /// Whether a bass was wanted and there is none.
    pub(crate) loses_bass: bool,
    pub(crate) hand: HandAt,
    pub(crate) position: Option<Fret>,
}

/// Choices do not depend on the hand's position: from the same moment and grip they are made once.
type Known = BTreeMap<(usize, Grip, Option<StringIndex>, Option<StringIndex>, LineStrings), Rc<Vec<Choice>>>;

/// The rules for one instrument, one hand and its demands.
pub(crate) struct Rules<'a> {
    pub(crate) reach: &'a Reach,
    demands: &'a [Demand],
    known: RefCell<Known>,
}

impl<'a> Rules<'a> {
    pub(crate) fn new(reach: &'a Reach, demands: &'a [Demand]) -> Self {
        Self { reach, demands, known: RefCell::default() }
    }

    pub(crate) const fn demands(&self) -> &'a [Demand] {
        self.demands
    }

    /// Before the first moment: silence, and the hand nowhere.
    pub(crate) fn beginning(&self) -> State {
        let hand = HandAt::holding(self.reach, &Grip::SILENT);
        State { grip: Grip::SILENT, melody: None, bass: None, lines: LineStrings::NONE, position: None, hand }
    }

    /// Everything that may happen at a moment.
    pub(crate) fn choices(&self, moment: usize, before: &State) -> Rc<Vec<Choice>> {
        let demand = &self.demands[moment];
        let key = if demand.accompaniment.is_some() && demand.lines.are_silent() {
            (moment, Grip::from_holds(held(demand, before)), None, None, LineStrings::NONE)
        } else {
            (moment, before.grip, before.melody, before.bass, before.lines)
        };
        if let Some(known) = self.known.borrow().get(&key) {
            return Rc::clone(known);
        }
        let choices = Rc::new(match demand.accompaniment {
            _ if !demand.lines.are_silent() => self.lined(demand, before),
            Some(wanted) => self.strokes(demand, wanted, held(demand, before)),
            None => self.songs(demand, before),
        });
        self.known.borrow_mut().insert(key, Rc::clone(&choices));
        choices
    }

    /// The state that a choice leads to, and what it costs to go there.
    pub(crate) fn take(&self, moment: usize, before: &State, choice: &Choice) -> (State, i64) {
        let position = choice.position.or(before.position);
        let hand = choice.hand.coming_from(position);
        let Choice { grip, melody, bass, lines, .. } = *choice;
        let after = State { grip, melody, bass, lines, position, hand };
        let moved = move_effort(self.reach, &before.hand, &hand, self.demands[moment].milliseconds);
        (after, choice.cost + i64::from(moved.total().points()))
    }

    /// Whether a hand can hold a grip.
    pub(crate) fn playable(&self, grip: &Grip) -> bool {
        check::grip(self.reach.instrument(), self.reach.hand(), grip).is_empty()
    }

    pub(crate) fn pitch(&self, (string, hold): Note) -> Option<Pitch> {
        self.reach.instrument().sounding(Place { string, fret: hold.fret() })
    }

    /// Every hold that sounds the melody note by itself, the locked string alone where one is locked.
    pub(crate) fn melody_holds(&self, demand: &Demand) -> Vec<Note> {
        let Some(pitch) = demand.melody.pitch() else { return Vec::new() };
        let mut holds = self.holds_of(pitch);
        holds.retain(|(string, _)| demand.lock.melody.is_none_or(|only| only == *string));
        holds
    }

    /// Every hold that sounds a pitch by itself.
    pub(crate) fn holds_of(&self, pitch: Pitch) -> Vec<Note> {
        let instrument = self.reach.instrument();
        let mut holds = Vec::new();
        for string in instrument.strings() {
            for fret in (0..=instrument.last_fret().number()).map(Fret::new) {
                let digits = [None, Some(Finger::Thumb)].into_iter().chain(Finger::FOUR.map(Some));
                holds.extend(digits.map(|finger| (string, Hold::plain(fret, finger))));
            }
        }
        holds.retain(|note| self.pitch(*note) == Some(pitch) && self.playable(&Grip::from_holds([*note])));
        holds
    }

    /// A stroke: whatever rang has ended, but for a melody note that sounds on.
    fn strokes(&self, demand: &Demand, wanted: Accompaniment, held: Option<Note>) -> Vec<Choice> {
        let kept = Grip::from_holds(held);
        let mut all = Vec::new();
        if let Some(locked) = demand.lock.grip {
            let both = Grip::from_holds(kept.holds().chain(locked.holds()));
            let apart = kept.strings().intersection(locked.strings()).is_empty();
            if apart && self.playable(&both) {
                all.push(both);
            }
        } else {
            let wish = candidates::wish(demand, wanted, &kept, self.reach);
            all = grips(self.reach.instrument(), self.reach.hand(), &wish);
            all.extend(self.melody_alone(demand, kept));
        }
        all.into_iter().filter_map(|grip| self.stroke(demand, wanted, held, grip)).collect()
    }

    /// The melody with nothing beneath it.
    fn melody_alone(&self, demand: &Demand, kept: Grip) -> Vec<Grip> {
        match demand.melody {
            MelodyDemand::Begins { .. } => {
                self.melody_holds(demand).into_iter().map(|note| Grip::from_holds([note])).collect()
            }
            MelodyDemand::SoundsOn { .. } | MelodyDemand::Rest => vec![kept],
        }
    }

    /// Tells melody, bass and inner notes of a struck grip apart; none where it does not answer the demand.
    fn stroke(
        &self,
        demand: &Demand,
        wanted: Accompaniment,
        held: Option<Note>,
        grip: Grip,
    ) -> Option<Choice> {
        let top = demand.melody.pitch();
        let melody = match demand.melody {
            MelodyDemand::Begins { .. } => Some(grip.holds().find(|note| self.pitch(*note) == top)?.0),
            MelodyDemand::SoundsOn { .. } => Some(held?.0),
            MelodyDemand::Rest => None,
        };
        if melody.is_some() && demand.lock.melody.is_some_and(|only| Some(only) != melody) {
            return None;
        }
        let mut beneath: Vec<(Pitch, StringIndex)> = Vec::new();
        for note in grip.holds().filter(|(string, _)| Some(*string) != melody) {
            let pitch = self.pitch(note)?;
            let too_high = match top {
                Some(top) => pitch >= top,
                None => pitch > HIGHEST_UNDER_REST && demand.lock.grip.is_none(),
            };
            if too_high {
                return None;
            }
            beneath.push((pitch, note.0));
        }
        // Of two strings at the lowest pitch the higher string is the bass.
        beneath.sort_unstable();
        let admitted = |pitch| demand.lock.grip.is_some() || wanted.bass.admits(pitch);
        let bass = beneath.first().copied().filter(|(pitch, _)| admitted(*pitch));
        let inner: Vec<Pitch> = beneath.iter().skip(usize::from(bass.is_some())).map(|(p, _)| *p).collect();
        let worth = worth::accompaniment(&wanted, top, bass.map(|(pitch, _)| pitch), &inner);
        let lost = if bass.is_none() { BASS_LOST } else { 0 };
        let struck = grip.strings().without(held.map(|(string, _)| string).into_iter().collect());
        let choice = self.choice(grip, struck, melody, bass.map(|(_, string)| string));
        Some(Choice { cost: choice.cost - i64::from(worth) + lost, loses_bass: bass.is_none(), ..choice })
    }

    /// Between strokes a melody note begins over what rings.
    fn songs(&self, demand: &Demand, before: &State) -> Vec<Choice> {
        let rings_on = demand.rings_on();
        let ringing: Vec<Note> = if rings_on > Ticks::ZERO {
            before.grip.holds().filter(|(string, _)| Some(*string) != before.melody).collect()
        } else {
            Vec::new()
        };
        let locked =
            |(string, hold): &Note| demand.lock.grip.is_none_or(|locked| locked.hold(*string) == Some(*hold));
        let mut choices = Vec::new();
        for melody in self.melody_holds(demand).into_iter().filter(locked) {
            let may_stay = |note: &Note| self.pitch(*note) < demand.melody.pitch() && note.0 != melody.0;
            let may_stay: Vec<Note> = ringing.iter().copied().filter(may_stay).collect();
            for kept in self.kept(&may_stay, before.bass, melody) {
                let gone = ringing.iter().filter(|(string, _)| kept.hold(*string).is_none());
                let cut: i64 =
                    gone.map(|(string, _)| worth::cut(before.bass == Some(*string), rings_on)).sum();
                let bass = before.bass.filter(|bass| kept.hold(*bass).is_some());
                let grip = Grip::from_holds(kept.holds().chain([melody]));
                let struck = [melody.0].into_iter().collect();
                let choice = self.choice(grip, struck, Some(melody.0), bass);
                choices.push(Choice { cost: choice.cost + cut, ..choice });
            }
        }
        choices
    }

    /// What may be kept of what rings: all that can stay, the bass alone, nothing.
    fn kept(&self, may_stay: &[Note], bass: Option<StringIndex>, melody: Note) -> Vec<Grip> {
        let is_bass = |note: &&Note| Some(note.0) == bass;
        let bass = may_stay.iter().copied().find(|note| is_bass(&note));
        let inner = may_stay.iter().filter(|note| !is_bass(note)).copied();
        let mut most = Grip::SILENT;
        for note in bass.into_iter().chain(inner) {
            let more = Grip::from_holds(most.holds().chain([note]));
            if self.playable(&Grip::from_holds(more.holds().chain([melody]))) {
                most = more;
            }
        }
        let bass = bass.filter(|bass| self.playable(&Grip::from_holds([*bass, melody])));
        [most, Grip::SILENT].into_iter().chain(bass.map(|bass| Grip::from_holds([bass]))).collect()
    }

    pub(crate) fn choice(
        &self,
        grip: Grip,
        struck: StringSet,
        melody: Option<StringIndex>,
        bass: Option<StringIndex>,
    ) -> Choice {
        Choice {
            grip,
            struck,
            melody,
            bass,
            lines: LineStrings::NONE,
            cost: i64::from(grip_effort(self.reach, &grip).total().points()),
            loses_bass: false,
            hand: HandAt::holding(self.reach, &grip),
            position: grip.position(),
        }
    }
}

/// The melody note that sounds on, with its string, fret and finger.
fn held(demand: &Demand, before: &State) -> Option<Note> {
    let string = before.melody.filter(|_| matches!(demand.melody, MelodyDemand::SoundsOn { .. }))?;
    Some((string, before.grip.hold(string)?))
}
