//! Ranking (stand-in until the engine lands).
use super::{BassChoice, Effort, Grip, GripEffort, GripTerm, Hold, MoveEffort, MoveTerm};
use crate::hand::{Finger, Hand};
use crate::harmony::ToneSet;
use crate::neck::{Instrument, StringIndex, Place, Fret};
use crate::pitch::Pitch;
use std::ops::RangeInclusive;
/// Wish.
#[derive(Clone, Debug)]
pub struct VoicingWish {
    /// .
    pub melody: Option<Pitch>,
    /// .
    pub bass: BassChoice,
    /// .
    pub tones: ToneSet,
    /// .
    pub required: ToneSet,
    /// .
    pub notes: RangeInclusive<usize>,
    /// .
    pub held: Grip,
    /// .
    pub melody_string: Option<StringIndex>,
}
/// Order.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[expect(missing_docs, reason = "stand-in")]
pub enum Order { #[default] Easiest, LeastStretch, MostOpen, LeastMove, Fullest }
/// Ranked.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RankedGrip {
    /// .
    pub grip: Grip,
    /// .
    pub effort: GripEffort,
    /// .
    pub moved: Option<MoveEffort>,
    /// .
    pub total: Effort,
}
/// Stand-in.
pub fn ranked(instrument: &Instrument, _: &Hand, wish: &VoicingWish, _: Option<&Grip>, _: Order) -> Vec<RankedGrip> {
    let Some(melody) = wish.melody else { return Vec::new() };
    let mut all = Vec::new();
    for top in instrument.places(melody) {
        for low in 2_u8..6 {
            let mut grip = Grip::SILENT;
            let hold = |p: Place, f| if p.fret.is_open() { Hold::OPEN } else { Hold::stopped(p.fret, f) };
            grip.set(top.string, Some(hold(top, Finger::Ring)));
            let fingers = [Finger::Index, Finger::Middle, Finger::Little];
            let mut n = 0;
            for s in instrument.strings().filter(|s| s.index() > top.string.index() && s.index() >= low as usize) {
                for f in top.fret.number().saturating_sub(2)..=top.fret.number().max(3) {
                    let place = Place { string: s, fret: Fret::new(f) };
                    let tone = instrument.sounding(place).filter(|p| wish.tones.contains(p.class()));
                    if tone.is_some() && n < 3 { grip.set(s, Some(hold(place, fingers[n]))); n += 1; break; }
                }
            }
            let mut effort = GripEffort::default();
            effort.add(GripTerm::Fingers, grip.stopped().count() as i32 * 3);
            effort.add(GripTerm::Stretch, i32::from(low));
            effort.add(GripTerm::OpenStrings, -((grip.len() - grip.stopped().count()) as i32));
            let mut moved = MoveEffort::default();
            moved.add(MoveTerm::Landing, 4);
            moved.add(MoveTerm::Pivot, -2);
            if !all.iter().any(|r: &RankedGrip| r.grip == grip) {
                all.push(RankedGrip { grip, effort, moved: Some(moved), total: effort.total() + moved.total() });
            }
        }
    }
    all.sort_by_key(|r| r.total);
    all
}
