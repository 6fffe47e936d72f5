//! A grip of the player's own: put together string by string, judged at once.

use std::collections::BTreeSet;

use handspan_core::check::{GripFault, least_wrong};
use handspan_core::demand::Part;
use handspan_core::grip::moves::move_effort;
use handspan_core::grip::{Grip, GripEffort, HandAt, Hold, Nearest, Reach, Voicing, nearest, ways_to_hold};
use handspan_core::neck::{Fret, Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::route::right_hand;

use super::{Place as Room, Session, Shown};
use crate::command::OwnWish;

/// The grip as it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OwnGrip {
    /// Which strings sound at which frets.
    pub voicing: Voicing,
    /// The string that keys change.
    pub string: StringIndex,
    /// Which of the ways to hold it is shown.
    pub way: usize,
    /// Whether a hand can hold it.
    pub judgement: Judgement,
    /// The grip with what it costs here, under the fingers shown; under none where no hand holds it.
    pub(super) shown: Shown,
}

/// What is found about a grip.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Judgement {
    /// No string sounds.
    Nothing,
    /// These are all the ways to hold it, the easiest first.
    Held(Vec<(Grip, GripEffort)>),
    /// No hand holds it.
    Impossible {
        /// The rules that the closest fingering still breaks.
        faults: Vec<GripFault>,
        /// What can be held instead.
        nearest: Option<Nearest>,
    },
}

/// Why a grip cannot be taken as the lock of this moment.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NotTaken {
    /// Nothing sounds.
    Nothing,
    /// No hand holds it.
    Impossible,
    /// Its highest note is not the melody note.
    NotTheMelody {
        /// The melody note.
        melody: Pitch,
        /// The highest note.
        top: Pitch,
    },
    /// The melody note stands twice.
    MelodyTwice(Pitch),
    /// A melody note rings on, and would be let go or refingered.
    RingsOn(Place),
    /// More strings than the right hand plucks at once.
    TooManyToPluck,
    /// The tune is written out, and these are not its notes.
    OtherNotes,
}

impl Session {
    /// The grip that is being built.
    pub const fn own(&self) -> Option<&OwnGrip> {
        self.own.as_ref()
    }

    pub(super) fn own_wish(&mut self, wish: OwnWish) {
        let Some(own) = self.own.clone() else {
            if wish == OwnWish::Toggle {
                self.go_to(Room::Voicings);
                self.begin_own();
            }
            return;
        };
        let (mut voicing, mut string) = (own.voicing, own.string);
        let last = self.work().plan.instrument.last_fret();
        let strings = self.work().plan.instrument.string_count();
        match wish {
            OwnWish::Toggle => {
                self.own = None;
                return;
            }
            OwnWish::Way(way) => return self.show_way(way),
            OwnWish::NextWay => return self.show_way(own.way + 1),
            OwnWish::Touch(place) => {
                let there = voicing.fret(place.string) == Some(place.fret);
                voicing.set(place.string, (!there).then_some(place.fret));
                string = place.string;
            }
            OwnWish::String(to) if to.index() < strings => string = to,
            OwnWish::String(_) => {}
            OwnWish::StringAbove => string = StringIndex::new(string.index().saturating_sub(1)),
            OwnWish::StringBelow => string = StringIndex::new((string.index() + 1).min(strings - 1)),
            OwnWish::Higher => {
                let higher = voicing.fret(string).map_or(0, |fret| i32::from(fret.number()) + 1);
                let fret = Fret::try_new(higher).filter(|fret| *fret <= last);
                voicing.set(string, fret.or_else(|| voicing.fret(string)));
            }
            OwnWish::Lower => {
                let lower = voicing.fret(string).and_then(|fret| Fret::try_new(i32::from(fret.number()) - 1));
                voicing.set(string, lower);
            }
            OwnWish::Silence => voicing.set(string, None),
            OwnWish::Clear => voicing = Voicing::SILENT,
            OwnWish::Again => voicing = self.moment().map_or(Voicing::SILENT, |m| m.grip.voicing()),
            OwnWish::Nearest => {
                if let Judgement::Impossible { nearest: Some(nearest), .. } = &own.judgement {
                    voicing = nearest.grip.voicing();
                }
            }
        }
        if voicing == own.voicing {
            self.own = Some(OwnGrip { string, ..own });
        } else {
            self.judge_own(voicing, string);
        }
    }

    pub(super) fn can_own(&self, wish: OwnWish) -> bool {
        let Some(own) = &self.own else {
            return wish == OwnWish::Toggle && self.arrangement.is_some();
        };
        match wish {
            OwnWish::NextWay => matches!(&own.judgement, Judgement::Held(ways) if ways.len() > 1),
            OwnWish::Nearest => matches!(&own.judgement, Judgement::Impossible { nearest: Some(_), .. }),
            OwnWish::Clear => !own.voicing.is_empty(),
            _ => true,
        }
    }

    fn begin_own(&mut self) {
        let Some(shown) = self.shown() else { return };
        let top = self.melody_place().map(|place| place.string);
        let string = top.or_else(|| shown.grip.holds().next().map(|(string, _)| string));
        self.judge_own(shown.grip.voicing(), string.unwrap_or(StringIndex::new(0)));
        self.show_fingers_of(&shown.grip);
    }

    fn judge_own(&mut self, voicing: Voicing, string: StringIndex) {
        let plan = &self.work().plan;
        let reach = Reach::new(&plan.instrument, &plan.hand);
        let ways = ways_to_hold(&reach, &voicing);
        let judgement = if voicing.is_empty() {
            Judgement::Nothing
        } else if ways.is_empty() {
            let (_, faults) = least_wrong(&plan.instrument, &plan.hand, &voicing);
            Judgement::Impossible { faults, nearest: nearest(&reach, &voicing) }
        } else {
            Judgement::Held(ways)
        };
        let shown = self.shown_of(&voicing, &judgement, 0);
        self.own = Some(OwnGrip { voicing, string, way: 0, judgement, shown });
    }

    fn show_way(&mut self, way: usize) {
        let Some(own) = self.own.take() else { return };
        let ways = if let Judgement::Held(ways) = &own.judgement { ways.len() } else { 1 };
        let way = way % ways;
        let shown = self.shown_of(&own.voicing, &own.judgement, way);
        self.own = Some(OwnGrip { way, shown, ..own });
    }

    fn show_fingers_of(&mut self, grip: &Grip) {
        if let Some(Judgement::Held(ways)) = self.own.as_ref().map(|own| &own.judgement) {
            self.show_way(ways.iter().position(|(way, _)| way == grip).unwrap_or(0));
        }
    }

    /// What is built, judged anew where the player stands elsewhere or instrument or hand have changed.
    pub(super) fn judge_own_again(&mut self) {
        if let Some(own) = self.own.take() {
            let strings = self.work().plan.instrument.string_count();
            let last = self.work().plan.instrument.last_fret();
            let fits = own.voicing.places().filter(|p| p.string.index() < strings && p.fret <= last);
            let voicing = fits.map(|place| (place.string, place.fret)).collect();
            self.judge_own(voicing, StringIndex::new(own.string.index().min(strings - 1)));
            self.show_fingers_of(&own.shown.grip);
        }
    }

    fn shown_of(&self, voicing: &Voicing, judgement: &Judgement, way: usize) -> Shown {
        let plan = &self.work().plan;
        let reach = Reach::new(&plan.instrument, &plan.hand);
        let held = match judgement {
            Judgement::Held(ways) => ways.get(way).copied(),
            Judgement::Nothing | Judgement::Impossible { .. } => None,
        };
        let moved = self.previous().zip(held).map(|(before, (grip, _))| {
            let from = before.hand(&reach);
            let to = HandAt::holding(&reach, &grip).coming_from(from.position());
            move_effort(&reach, &from, &to, before.milliseconds)
        });
        let (grip, effort) = held.unwrap_or_else(|| (without_fingers(voicing), GripEffort::default()));
        Shown { grip, effort, moved, is_preview: true }
    }

    /// Why the grip that is built cannot be locked here; none where it can be.
    pub fn why_own_is_not_taken(&self) -> Option<NotTaken> {
        let own = self.own.as_ref()?;
        match own.judgement {
            Judgement::Nothing => return Some(NotTaken::Nothing),
            Judgement::Impossible { .. } => return Some(NotTaken::Impossible),
            Judgement::Held(_) => {}
        }
        let grip = own.shown.grip;
        let plan = &self.work().plan;
        let held = self.ringing_melody();
        if let Some((string, hold)) = held.holds().find(|(string, hold)| grip.hold(*string) != Some(*hold)) {
            return Some(NotTaken::RingsOn(Place { string, fret: hold.fret() }));
        }
        if !right_hand::can_pluck(&plan.hand, grip.strings().without(held.strings())) {
            return Some(NotTaken::TooManyToPluck);
        }
        if self.is_written_out() {
            let notes =
                |grip: &Grip| -> BTreeSet<Pitch> { grip.voicing().pitches(&plan.instrument).collect() };
            let others = self.moment().is_some_and(|moment| notes(&moment.grip) != notes(&grip));
            return others.then_some(NotTaken::OtherNotes);
        }
        let melody = self.tune().melody_at(self.playhead()).map(handspan_core::tune::MelodyNote::pitch)?;
        let mut pitches: Vec<Pitch> = own.voicing.pitches(&plan.instrument).collect();
        pitches.sort_unstable_by(|a, b| b.cmp(a));
        match pitches[..] {
            [top, ..] if top != melody => Some(NotTaken::NotTheMelody { melody, top }),
            [_, second, ..] if second == melody => Some(NotTaken::MelodyTwice(melody)),
            _ => None,
        }
    }

    /// What rings on of the melody at this moment.
    pub(super) fn ringing_melody(&self) -> Grip {
        let (Some(arrangement), Some(moment)) = (self.arrangement(), self.moment()) else {
            return Grip::SILENT;
        };
        let sounding = arrangement.score.sounding_at(moment.at);
        let melody = sounding.filter(|note| note.part == Part::Melody && note.at < moment.at);
        moment.grip.only(melody.map(|note| note.place.string).collect())
    }
}

/// The places alone: no finger stops them.
fn without_fingers(voicing: &Voicing) -> Grip {
    let hold = |place: Place| (place.string, Hold::unfingered(place.fret));
    Grip::from_holds(voicing.places().map(hold))
}
