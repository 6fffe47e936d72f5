//! Written music: the routes between the fewest cuts are the best of all, for both aims.
//!
//! What may follow is stated here a second time: notes on strings by trying every string and digit, judged by the
//! independent check.

use handspan_core::check;
use handspan_core::demand::{Mark, WrittenDemand, WrittenNote};
use handspan_core::grip::moves::move_effort;
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{Grip, HandAt, Hold, Reach};
use handspan_core::hand::Finger;
use handspan_core::neck::{Place, StringIndex};
use handspan_core::pitch::Pitch;
use handspan_core::plan::Aim;
use handspan_core::route::{WrittenPassage, easiest_written};
use handspan_core::watch::Unwatched;

use crate::cases;
use crate::dice::Dice;

/// How many grips are tried in all before a case is left out as too large.
const MOST: u32 = 4_000;
/// How many cases there are.
const CASES: i32 = 5_000;

/// What passages are compared by: the hardest move where the gentlest is meant, then the total.
type Rank = (i32, i64);

/// The best way through a passage that goes as far as any hand can.
struct Attempt<'a> {
    reach: &'a Reach,
    demands: &'a [WrittenDemand],
    aim: Aim,
    left: u32,
    /// How many demands the best way meets, and what it is like.
    best: (usize, Rank),
}

impl Attempt<'_> {
    fn follow(&mut self, met: usize, grip: &Grip, hand: &HandAt, (hardest, total): Rank) {
        let compared = if self.aim == Aim::Gentlest { hardest } else { 0 };
        if met > self.best.0 || (met == self.best.0 && (compared, total) < self.best.1) {
            self.best = (met, (compared, total));
        }
        let Some(demand) = self.demands.get(met) else { return };
        for next in grips(self.reach, grip, demand, met == 0) {
            if self.left == 0 {
                return;
            }
            self.left -= 1;
            let next_hand = HandAt::holding(self.reach, &next).coming_from(hand.position());
            let moved = move_effort(self.reach, hand, &next_hand, demand.milliseconds).total().points();
            let cost = i64::from(grip_effort(self.reach, &next).total().points() + moved);
            self.follow(met + 1, &next, &next_hand, (hardest.max(moved), total + cost));
        }
    }
}

fn pitch(reach: &Reach, string: StringIndex, hold: Hold) -> Option<Pitch> {
    reach.instrument().sounding(Place { string, fret: hold.fret })
}

/// Every grip that keeps what sounds on and adds what is struck.
fn grips(reach: &Reach, before: &Grip, demand: &WrittenDemand, begins: bool) -> Vec<Grip> {
    let sounds_on =
        |string, hold| pitch(reach, string, hold).is_some_and(|p| demand.sounding_on.contains(&p));
    let kept = Grip::from_holds(before.holds().filter(|(string, hold)| !begins && sounds_on(*string, *hold)));
    let mut all = vec![kept];
    for note in &demand.struck {
        all = all.iter().flat_map(|grip| with_note(reach, grip, *note)).collect();
    }
    all.retain(|grip| check::grip(reach.instrument(), reach.hand(), grip).is_empty());
    all
}

/// A grip with a note on every free string by every digit that its marks allow.
fn with_note(reach: &Reach, grip: &Grip, note: WrittenNote) -> Vec<Grip> {
    let mut all = Vec::new();
    let places = reach.instrument().places(note.pitch).filter(|place| grip.hold(place.string).is_none());
    for Place { string, fret } in places.filter(|place| note.string.is_none_or(|only| only == place.string)) {
        for finger in [None, Some(Finger::Thumb)].into_iter().chain(Finger::FOUR.map(Some)) {
            let marked = match note.mark {
                None => true,
                Some(Mark::Open) => finger.is_none(),
                Some(Mark::Stopped(by)) => finger == Some(by),
            };
            if marked && finger.is_none() == fret.is_open() {
                let mut more = *grip;
                more.set(string, Some(Hold { fret, finger }));
                all.push(more);
            }
        }
    }
    all
}

/// Music of one to three notes at a time, of which some sound on; a few carry a string or a digit.
fn music(dice: &mut Dice, reach: &Reach) -> Vec<WrittenDemand> {
    let instrument = reach.instrument();
    let mut all: Vec<WrittenDemand> = Vec::new();
    for _ in 0..dice.from(1, 4) {
        let mut struck: Vec<WrittenNote> = Vec::new();
        for _ in 0..dice.pick(&[1, 1, 2, 2, 3]) {
            let pitch = cases::melody_pitch(dice, instrument);
            let places: Vec<Place> = instrument.places(pitch).collect();
            let string = dice.percent(10).then(|| dice.pick(&places).string);
            let marks = [Mark::Open, Mark::Stopped(Finger::Index), Mark::Stopped(Finger::Little)];
            let mark = dice.percent(10).then(|| dice.pick(&marks));
            if struck.iter().all(|note| note.pitch != pitch) {
                struck.push(WrittenNote { pitch, string, mark });
            }
        }
        let before = all.last().map(|demand| demand.struck.clone()).unwrap_or_default();
        let sounding_on: Vec<Pitch> = before
            .iter()
            .map(|note| note.pitch)
            .filter(|pitch| dice.percent(60) && struck.iter().all(|note| note.pitch != *pitch))
            .collect();
        all.push(WrittenDemand { milliseconds: dice.from(60, 1800), struck, sounding_on });
    }
    all
}

/// What a passage is like under an aim.
fn rank(passage: &WrittenPassage, aim: Aim) -> Rank {
    let hardest = passage.steps.iter().map(|step| step.moved.total().points()).max();
    (if aim == Aim::Gentlest { hardest.unwrap_or(0) } else { 0 }, passage.cost)
}

#[test]
fn written_routes_are_the_best_of_all_between_the_fewest_cuts() {
    let mut dice = Dice::new(8);
    let (mut compared, mut cut, mut held, mut none) = (0, 0, 0, 0);
    for number in 0..CASES {
        let reach = cases::case(&mut dice).reach;
        let demands = music(&mut dice, &reach);
        for aim in [Aim::LeastTotal, Aim::Gentlest] {
            let found = easiest_written(&reach, &demands, aim, &Unwatched);
            let mut passages = found.clone().map(Option::unwrap_or_default).unwrap_or_default().into_iter();
            let mut first = 0;
            let mut too_many = false;
            while first < demands.len() {
                let rest = &demands[first..];
                let mut attempt =
                    Attempt { reach: &reach, demands: rest, aim, left: MOST, best: (0, (i32::MAX, 0)) };
                attempt.follow(0, &Grip::SILENT, &HandAt::EMPTY, (i32::MIN, 0));
                too_many = attempt.left == 0;
                let (met, best) = attempt.best;
                if too_many || met == 0 {
                    break;
                }
                if let Ok(Some(_)) = &found {
                    let passage = passages.next().expect("a passage for every cut");
                    let said = (passage.first, passage.steps.len(), rank(&passage, aim));
                    assert_eq!(said, (first, met, best), "case {number}, {aim:?}: {demands:?} {reach:?}");
                }
                first += met;
                cut += i32::from(first < demands.len());
            }
            if too_many {
                continue;
            }
            let impasse = found.as_ref().err().map(|impasse| impasse.demand);
            assert_eq!(impasse, (first < demands.len()).then_some(first), "case {number}, {aim:?}");
            compared += 1;
            held += i32::from(demands.iter().any(|demand| !demand.sounding_on.is_empty()));
            none += i32::from(impasse.is_some());
        }
    }
    assert!(compared > 9_500, "only {compared} compared");
    assert!(
        cut > 1_000 && held > 2_000 && none > 300,
        "{cut} cuts, {held} with held notes, {none} impossible"
    );
}
