//! What the neck says beside the grip itself, and for which hand it is drawn.

use serde::{Deserialize, Serialize};

use super::{Place, Session};
use crate::command::ViewWish;
use crate::panels::chord_box::Boxed;

/// What stands in the marks on the neck.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Debug, Default)]
pub enum NeckLabels {
    /// The digits of the left hand.
    #[default]
    Fingers,
    /// The names of the notes.
    Notes,
    /// What each note is in the chord.
    Degrees,
}

impl NeckLabels {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Fingers, Self::Notes, Self::Degrees];

    /// In a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fingers => "fingers",
            Self::Notes => "notes",
            Self::Degrees => "degrees",
        }
    }

    /// The next of them.
    pub(super) const fn next(self) -> Self {
        match self {
            Self::Fingers => Self::Notes,
            Self::Notes => Self::Degrees,
            Self::Degrees => Self::Fingers,
        }
    }
}

/// What is shown on the neck.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct NeckView {
    /// What stands in the marks.
    pub labels: NeckLabels,
    /// Whether the next grip is shown instead of the one before.
    pub ahead: bool,
    /// Whether neck and chord boxes are drawn for a left-handed player.
    pub left_handed: bool,
}

impl Session {
    /// What is shown on the neck.
    pub const fn neck_view(&self) -> NeckView {
        self.neck
    }

    /// How chord boxes are drawn.
    pub fn boxed(&self) -> Boxed {
        Boxed { strings: self.work().plan.instrument.string_count(), left_handed: self.neck.left_handed }
    }

    /// A grip of one's own is built beside the list, and other routes are looked at among routes; elsewhere the neck
    /// shows the arrangement.
    pub(super) fn go_to(&mut self, place: Place) {
        if place != Place::Voicings {
            self.own = None;
        }
        if place != Place::Route {
            self.look_at_no_route();
        }
        self.place = place;
    }

    pub(super) const fn show_on_neck(&mut self, wish: ViewWish) {
        match wish {
            ViewWish::Labels(labels) => self.neck.labels = labels,
            ViewWish::NextLabels => self.neck.labels = self.neck.labels.next(),
            ViewWish::Ahead => self.neck.ahead = !self.neck.ahead,
            ViewWish::LeftHanded => self.neck.left_handed = !self.neck.left_handed,
            _ => {}
        }
    }
}
