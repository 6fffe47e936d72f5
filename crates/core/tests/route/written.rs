//! Written music: of the routes that let go of no more than they must, none is better, for both aims.
//!
//! What may follow is stated here a second time: notes on strings by trying every string and digit, judged by the
//! independent check.

use handspan_core::check;
use handspan_core::demand::{Harmonic, Mark, Part, SoundingNote, WrittenDemand, WrittenNote};
use handspan_core::grip::moves::move_effort;
use handspan_core::grip::strain::grip_effort;
use handspan_core::grip::{Grip, HandAt, Hold, Reach};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Instrument, Node, Place, StringIndex, Touch};
use handspan_core::pitch::{Interval, Pitch};
use handspan_core::plan::Aim;
use handspan_core::route::{Impasse, Route, Shapes, easiest_written};
use handspan_core::watch::Unwatched;

use crate::cases;
use crate::dice::Dice;

/// How many grips are tried in all before a case is left out as too large.
const MOST: u32 = 8_000;
/// How many cases there are.
const CASES: i32 = 5_000;

/// What routes are compared by: the hardest move where the gentlest is meant, then the total.
type Rank = (i32, i64);

/// How many notes of melody, bass, hook and inner voices are let go at a moment.
type Gone = [u8; 4];

/// The best way through written music.
struct Attempt<'a> {
    reach: &'a Reach,
    demands: &'a [WrittenDemand],
    aim: Aim,
    shapes: Shapes,
    /// What has to be let go at every moment; as many moments as a hand can go through.
    gone: Vec<Gone>,
    left: u32,
    best: Option<Rank>,
}

impl Attempt<'_> {
    /// Goes from moment to moment with every grip that can be come to, and finds the least that has to be let go.
    fn let_go(&mut self) {
        let mut all = vec![Grip::SILENT];
        for demand in self.demands {
            let mut next: Vec<(Gone, Grip)> = Vec::new();
            for grip in &all {
                for (gone, kept) in kept(self.reach, grip, demand) {
                    next.extend(grips(self.reach, kept, demand).into_iter().map(|grip| (gone, grip)));
                }
            }
            self.left = self.left.saturating_sub(next.len() as u32);
            let Some(least) = next.iter().map(|(gone, _)| *gone).min() else { return };
            next.retain(|(gone, _)| *gone == least);
            all = next.into_iter().map(|(_, grip)| grip).collect();
            all.sort_unstable();
            all.dedup();
            self.gone.push(least);
        }
    }

    fn follow(&mut self, met: usize, grip: &Grip, hand: &HandAt, (hardest, total): Rank) {
        let Some(demand) = self.demands.get(met) else {
            let rank = (if self.aim == Aim::Gentlest { hardest } else { 0 }, total);
            self.best = Some(self.best.map_or(rank, |best| best.min(rank)));
            return;
        };
        let wanted = self.gone[met];
        let ways = kept(self.reach, grip, demand).into_iter().filter(|(gone, _)| *gone == wanted);
        for next in ways.flat_map(|(_, kept)| grips(self.reach, kept, demand)) {
            if self.left == 0 {
                return;
            }
            self.left -= 1;
            let next_hand = HandAt::holding(self.reach, &next).coming_from(hand.position());
            let moved = move_effort(self.reach, hand, &next_hand, demand.milliseconds).total().points();
            let shape = self.shapes.effort(self.reach, met, &next);
            let cost = i64::from((grip_effort(self.reach, &next).total() + shape).points() + moved);
            self.follow(met + 1, &next, &next_hand, (hardest.max(moved), total + cost));
        }
    }
}

fn pitch(reach: &Reach, string: StringIndex, hold: Hold) -> Option<Pitch> {
    reach.instrument().sounding_by(Place { string, fret: hold.fret() }, hold.touch())
}

/// Every way to keep some of what should sound on, with what is let go.
fn kept(reach: &Reach, before: &Grip, demand: &WrittenDemand) -> Vec<(Gone, Grip)> {
    let mut all = vec![([0; 4], Grip::SILENT)];
    for (string, hold) in before.holds() {
        let sounds = |note: &&SoundingNote| pitch(reach, string, hold) == Some(note.pitch);
        let Some(note) = demand.sounding_on.iter().find(sounds) else { continue };
        let ways = all.iter().flat_map(|(gone, grip): &(Gone, Grip)| {
            let (mut more, mut with) = (*gone, *grip);
            more[note.part as usize] += 1;
            with.set(string, Some(rings(hold)));
            [(*gone, with), (more, *grip)]
        });
        all = ways.collect();
    }
    all
}

/// A natural harmonic that sounds needs no finger.
fn rings(hold: Hold) -> Hold {
    match hold.touch() {
        Touch::Natural => Hold::touched(hold.fret(), Touch::Natural).expect("it has a node"),
        _ => hold,
    }
}

/// Every grip that adds to what is kept everything that is struck.
fn grips(reach: &Reach, kept: Grip, demand: &WrittenDemand) -> Vec<Grip> {
    let mut all = vec![kept];
    for note in &demand.struck {
        all = all.iter().flat_map(|grip| with_note(reach, grip, *note)).collect();
    }
    all.retain(|grip| check::grip(reach.instrument(), reach.hand(), grip).is_empty());
    let artificial = demand.struck.iter().filter(|note| note.harmonic == Some(Harmonic::Artificial)).count();
    if artificial > 1 { Vec::new() } else { all }
}

/// A grip with a note on every free string by every digit that its marks allow.
fn with_note(reach: &Reach, grip: &Grip, note: WrittenNote) -> Vec<Grip> {
    let mut all = Vec::new();
    let touch = match note.harmonic {
        None => Touch::Plain,
        Some(Harmonic::Natural(_)) => Touch::Natural,
        Some(Harmonic::Artificial) => Touch::Artificial,
    };
    let instrument = reach.instrument();
    let frets = || (0..=instrument.last_fret().number()).map(Fret::new);
    let every = instrument.strings().flat_map(|string| frets().map(move |fret| Place { string, fret }));
    let sounds = |place: &Place| instrument.sounding_by(*place, touch) == Some(note.pitch);
    let node = |place: &Place| match note.harmonic {
        Some(Harmonic::Natural(Some(node))) => node.fret() == place.fret,
        _ => true,
    };
    let free = |place: &Place| {
        grip.hold(place.string).is_none() && note.string.is_none_or(|only| only == place.string)
    };
    for Place { string, fret } in every.filter(sounds).filter(node).filter(free) {
        let hold = Hold::touched(fret, touch).expect("it sounds");
        for finger in [None, Some(Finger::Thumb)].into_iter().chain(Finger::FOUR.map(Some)) {
            let marked = match note.mark {
                None => true,
                Some(Mark::Open) => finger.is_none(),
                Some(Mark::Stopped(by)) => finger == Some(by),
            };
            let held = finger.map_or(Some(hold), |finger| hold.under(finger));
            if let Some(held) = held.filter(|_| marked && finger.is_none() == fret.is_open()) {
                let mut more = *grip;
                more.set(string, Some(held));
                all.push(more);
            }
        }
    }
    all
}

/// A note that may carry a string or a digit; one in six is a harmonic.
fn note(dice: &mut Dice, instrument: &Instrument) -> WrittenNote {
    let kind =
        dice.pick(&[None, None, None, None, None, Some(Harmonic::Artificial), Some(Harmonic::Natural(None))]);
    let plain = cases::melody_pitch(dice, instrument);
    let string = instrument.places(plain).next().expect("the pitch lies on the neck").string;
    let (pitch, harmonic) = match kind {
        Some(Harmonic::Natural(_)) => {
            let nodes: Vec<Node> =
                Node::ALL.into_iter().filter(|node| node.fret() <= instrument.last_fret()).collect();
            let node = dice.pick(&nodes);
            let only = dice.percent(50).then_some(node);
            let pitch = instrument.open_pitch(string).checked_add(node.above_open());
            (pitch.expect("it is a pitch"), Some(Harmonic::Natural(only)))
        }
        Some(Harmonic::Artificial) => (plain.checked_add(Interval::new(12)).expect("it is a pitch"), kind),
        None => (plain, None),
    };
    let strings: Vec<StringIndex> = instrument.strings().collect();
    let string = dice.percent(10).then(|| dice.pick(&strings));
    let marks = [Mark::Open, Mark::Stopped(Finger::Index), Mark::Stopped(Finger::Little)];
    let mark = dice.percent(10).then(|| dice.pick(&marks));
    WrittenNote { pitch, string, mark, harmonic }
}

/// Music of one to three notes at a time, of which some sound on; a few carry a string or a digit.
pub(crate) fn music(dice: &mut Dice, reach: &Reach) -> Vec<WrittenDemand> {
    let instrument = reach.instrument();
    let mut all: Vec<WrittenDemand> = Vec::new();
    for _ in 0..dice.from(1, 4) {
        let mut struck: Vec<WrittenNote> = Vec::new();
        for _ in 0..dice.pick(&[1, 1, 2, 2, 3]) {
            let note = note(dice, instrument);
            if struck.iter().all(|other| other.pitch != note.pitch) {
                struck.push(note);
            }
        }
        let before = all.last().map(|demand| demand.struck.clone()).unwrap_or_default();
        let sounding_on = before
            .iter()
            .filter(|note| dice.percent(60) && struck.iter().all(|other| other.pitch != note.pitch))
            .map(|note| note.pitch)
            .collect::<Vec<_>>();
        let parts = [Part::Melody, Part::Bass, Part::Inner, Part::Inner];
        let sounding_on =
            sounding_on.into_iter().map(|pitch| SoundingNote { pitch, part: dice.pick(&parts) }).collect();
        all.push(WrittenDemand {
            milliseconds: dice.from(60, 1800),
            begins_bar: dice.percent(20),
            struck,
            sounding_on,
        });
    }
    all
}

/// What a route is like under an aim.
fn rank(route: &Route, aim: Aim) -> Rank {
    let hardest = route.steps.iter().map(|step| step.moved.total().points()).max();
    (if aim == Aim::Gentlest { hardest.unwrap_or(0) } else { 0 }, route.cost)
}

#[test]
fn written_routes_are_the_best_of_all_that_let_go_of_no_more_than_they_must() {
    let mut dice = Dice::new(8);
    let (mut compared, mut let_go, mut held, mut none) = (0, 0, 0, 0);
    let (mut sounded, mut rung) = (0, 0);
    for number in 0..CASES {
        let reach = cases::case(&mut dice).reach;
        let demands = music(&mut dice, &reach);
        for aim in [Aim::LeastTotal, Aim::Gentlest] {
            let mut attempt = Attempt {
                reach: &reach,
                demands: &demands,
                aim,
                shapes: Shapes::new(&reach, &demands),
                gone: Vec::new(),
                left: MOST,
                best: None,
            };
            attempt.let_go();
            let found = easiest_written(&reach, &demands, aim, &Unwatched);
            let met = attempt.gone.len();
            if met < demands.len() {
                assert_eq!(found, Err(Impasse { demand: met }), "case {number}: {demands:?} {reach:?}");
                compared += 1;
                none += 1;
                continue;
            }
            attempt.follow(0, &Grip::SILENT, &HandAt::EMPTY, (i32::MIN, 0));
            if attempt.left == 0 {
                continue;
            }
            if let Ok(Some(route)) = &found {
                let holds = || route.steps.iter().flat_map(|step| step.grip.holds());
                let natural = |hold: &Hold| hold.touch() == Touch::Natural;
                sounded += i32::from(holds().any(|(_, hold)| hold.touch().is_harmonic()));
                rung += i32::from(holds().any(|(_, hold)| natural(&hold) && hold.finger().is_none()));
            }
            let said = found.map(|found| found.map(|route| rank(&route, aim)));
            assert_eq!(said, Ok(attempt.best), "case {number}, {aim:?}: {demands:?} {reach:?}");
            compared += 1;
            let_go += i32::from(attempt.gone.iter().any(|gone| *gone != [0; 4]));
            held += i32::from(demands.iter().any(|demand| !demand.sounding_on.is_empty()));
        }
    }
    assert!(compared > 9_000, "only {compared} compared");
    assert!(
        let_go > 500 && held > 2_000 && none > 300,
        "{compared} compared: {let_go} let something go, {held} with held notes, {none} impossible"
    );
    assert!(sounded > 2_000 && rung > 100, "{sounded} routes with harmonics, {rung} with one that rings on");
}
