//! Grips in the order a player asked for, each with its effort explained.

use super::effort::{Effort, GripEffort};
use super::fingering::fingerings;
use super::grip::Grip;
use super::moves::{HandAt, MoveEffort, move_effort};
use super::reach::Reach;
use super::strain::grip_effort;
use super::voicings::{VoicingWish, voicings};
use crate::hand::{Finger, Hand};
use crate::neck::Instrument;

/// What comes first in a list of grips. Ties go to the easier grip, then to the lower frets.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub enum Order {
    /// Least effort of grip and move together.
    #[default]
    Easiest,
    /// Fingers closest together.
    LeastStretch,
    /// Most open strings.
    MostOpen,
    /// Least effort of the move from the previous grip.
    LeastMove,
    /// Most strings sounding.
    Fullest,
}

impl Order {
    /// Every order, as offered to the player.
    pub const ALL: [Self; 5] =
        [Self::Easiest, Self::LeastStretch, Self::MostOpen, Self::LeastMove, Self::Fullest];

    /// The order in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Easiest => "easiest",
            Self::LeastStretch => "least stretch",
            Self::MostOpen => "most open strings",
            Self::LeastMove => "least movement",
            Self::Fullest => "fullest",
        }
    }
}

/// What a hand holds before it moves on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Previous {
    /// The grip that it leaves.
    pub grip: Grip,
    /// How much time the move has.
    pub milliseconds: i64,
}

impl Previous {
    /// A grip that is left when nothing says how fast the tune goes.
    pub const fn at_usual_pace(grip: Grip) -> Self {
        Self { grip, milliseconds: super::moves::USUAL_MILLISECONDS }
    }
}

/// A grip with what it costs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RankedGrip {
    /// The grip.
    pub grip: Grip,
    /// What holding it costs.
    pub effort: GripEffort,
    /// What the move from the previous grip costs; none where there is no previous grip.
    pub moved: Option<MoveEffort>,
}

impl RankedGrip {
    /// Grip and move together.
    pub fn total(&self) -> Effort {
        self.effort.total() + self.move_total()
    }

    fn move_total(&self) -> Effort {
        self.moved.map_or(Effort::NONE, |moved| moved.total())
    }

    /// What sorts it under an order; smaller comes first. The grip itself breaks every tie.
    fn key(&self, reach: &Reach, order: Order) -> (i32, i32, Grip) {
        let first = match order {
            Order::Easiest => 0,
            Order::LeastStretch => spread(reach, &self.grip),
            Order::MostOpen => -(self.grip.holds().filter(|(_, hold)| hold.fret.is_open()).count() as i32),
            Order::LeastMove => self.move_total().points(),
            Order::Fullest => -(self.grip.len() as i32),
        };
        (first, self.total().points(), self.grip)
    }
}

/// How far apart the outer fingers are, in micrometres.
fn spread(reach: &Reach, grip: &Grip) -> i32 {
    let frets = || grip.stopped().filter(|(_, finger)| *finger != Finger::Thumb).map(|(place, _)| place.fret);
    match (frets().min(), frets().max()) {
        (Some(lowest), Some(highest)) => reach.apart(lowest, highest).count(),
        _ => 0,
    }
}

/// Every grip that meets a wish: every voicing in every way a hand can hold it, none twice.
pub fn grips(instrument: &Instrument, hand: &Hand, wish: &VoicingWish) -> Vec<Grip> {
    let reach = Reach::new(instrument, hand);
    let mut all = Vec::new();
    each_grip(&reach, wish, |grip| all.push(grip));
    all
}

/// Calls `found` with every grip that meets a wish, voicing by voicing.
pub fn each_grip(reach: &Reach, wish: &VoicingWish, mut found: impl FnMut(Grip)) {
    voicings(reach.instrument(), Some(reach), wish, |voicing| {
        fingerings(reach, &voicing, &wish.held, &mut found);
    });
}

/// The voicings that meet a wish, each in its easiest fingering, in the order asked for.
pub fn ranked(
    instrument: &Instrument,
    hand: &Hand,
    wish: &VoicingWish,
    previous: Option<Previous>,
    order: Order,
) -> Vec<RankedGrip> {
    let reach = Reach::new(instrument, hand);
    let from = previous.map(|before| (HandAt::holding(&reach, &before.grip), before.milliseconds));
    let mut list: Vec<RankedGrip> = Vec::new();
    voicings(instrument, Some(&reach), wish, |voicing| {
        let mut best: Option<RankedGrip> = None;
        fingerings(&reach, &voicing, &wish.held, |grip| {
            let effort = grip_effort(&reach, &grip);
            let moved =
                from.map(|(from, time)| move_effort(&reach, &from, &HandAt::holding(&reach, &grip), time));
            let this = RankedGrip { grip, effort, moved };
            if best.is_none_or(|b| this.key(&reach, Order::Easiest) < b.key(&reach, Order::Easiest)) {
                best = Some(this);
            }
        });
        list.extend(best);
    });
    list.sort_by_cached_key(|ranked| ranked.key(&reach, order));
    list
}
