//! Deciding: locks of a moment and of a passage.

use std::ops::Range;

use handspan_core::arrangement::{Arrangement, Edit};
use handspan_core::grip::{BassChoice, Grip};
use handspan_core::neck::{Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::plan::Lock;
use handspan_core::time::Ticks;

use super::Session;
use crate::command::LockWish;

impl Session {
    /// What is locked at the moment where the player stands.
    pub fn lock_here(&self) -> Lock {
        self.work().plan.locks.at(self.playhead())
    }

    /// The melody note that begins at the moment where the player stands.
    pub fn melody_here(&self) -> Option<Pitch> {
        let at = self.playhead();
        let note = self.tune().melody_at(at)?;
        (note.at == at).then(|| note.pitch())
    }

    /// Whether every note of the tune is given, so that only places and fingers are chosen.
    pub fn is_written_out(&self) -> bool {
        self.tune().written_out().is_some()
    }

    /// Where the melody note of this moment sounds in the grip shown.
    pub fn melody_place(&self) -> Option<Place> {
        let (pitch, shown) = (self.melody_here()?, self.shown()?);
        let instrument = &self.arrangement()?.score.instrument;
        let mut places = instrument.places(pitch);
        places.find(|p| shown.grip.hold(p.string).is_some_and(|h| h.fret() == p.fret))
    }

    /// The lowest place of the grip shown.
    pub fn bass_place(&self) -> Option<Place> {
        let shown = self.shown()?;
        let instrument = &self.arrangement()?.score.instrument;
        let places = shown.grip.voicing();
        let lowest = places.places().min_by_key(|p| instrument.sounding(*p))?;
        (shown.grip.len() > 1).then_some(lowest)
    }

    pub(super) fn lock(&mut self, wish: LockWish) {
        let edit = self.lock_edit(wish);
        if wish == LockWish::Take {
            self.own = None;
        }
        if let Some(edit) = edit {
            self.edit(&edit);
        }
    }

    pub(super) fn can_lock(&self, wish: LockWish) -> bool {
        match wish {
            LockWish::Take => {
                self.shown().is_some_and(|shown| shown.is_preview)
                    && self.routes().looked_at().is_none()
                    && self.why_own_is_not_taken().is_none()
            }
            _ => self.lock_edit(wish).is_some(),
        }
    }

    /// The change that a wish stands for here, or none where there is nothing to change.
    fn lock_edit(&self, wish: LockWish) -> Option<Edit> {
        let (at, lock) = (self.playhead(), self.lock_here());
        match wish {
            LockWish::Take => Some(Edit::Grip { at, grip: Some(self.struck_of_shown()?) }),
            LockWish::Grip => {
                let grip = match lock.grip {
                    Some(_) if !self.shown()?.is_preview => None,
                    _ => Some(self.struck_of_shown()?),
                };
                Some(Edit::Grip { at, grip })
            }
            LockWish::MelodyString => {
                let string = match lock.melody {
                    Some(_) => None,
                    None => Some(self.melody_place()?.string),
                };
                Some(Edit::MelodyString { at, string })
            }
            LockWish::MelodyOn(string) => self.melody_on(at, string),
            // Written-out music has its own bass.
            LockWish::Bass | LockWish::BassTo(_) if self.is_written_out() => None,
            LockWish::Bass => {
                let bass = if lock.bass.is_some() {
                    None
                } else {
                    let instrument = &self.arrangement()?.score.instrument;
                    Some(BassChoice::Exact(instrument.sounding(self.bass_place()?)?))
                };
                Some(Edit::Bass { at, bass })
            }
            LockWish::BassTo(bass) => Some(Edit::Bass { at, bass }),
            LockWish::KeepPassage => {
                let passage = self.passage()?.clone();
                let grips = struck_grips(self.arrangement()?, &passage);
                Some(Edit::TakePassage { passage, grips })
            }
            LockWish::ReleasePassage => {
                let passage = self.passage()?.clone();
                let mut locks = self.work().plan.locks.iter();
                let any = locks.any(|(at, _)| passage.contains(&at));
                any.then_some(Edit::ReleasePassage { passage })
            }
        }
    }

    /// Locking a string where it is locked already releases it.
    fn melody_on(&self, at: Ticks, string: StringIndex) -> Option<Edit> {
        self.melody_here()?;
        let string = (self.lock_here().melody != Some(string)).then_some(string);
        Some(Edit::MelodyString { at, string })
    }

    /// The struck strings of the grip shown; what still rings from before is no part of a lock.
    fn struck_of_shown(&self) -> Option<Grip> {
        let (shown, moment) = (self.shown()?, self.moment()?);
        if !shown.is_preview {
            return Some(shown.grip.only(moment.struck));
        }
        let held = self.ringing_melody();
        Some(shown.grip.only(shown.grip.strings().without(held.strings())))
    }
}

/// The struck strings of every moment of a passage.
pub(super) fn struck_grips(arrangement: &Arrangement, passage: &Range<Ticks>) -> Vec<(Ticks, Grip)> {
    let inside = arrangement.moments.iter().filter(|m| passage.contains(&m.at));
    inside.map(|m| (m.at, m.grip.only(m.struck))).filter(|(_, grip)| !grip.is_empty()).collect()
}
