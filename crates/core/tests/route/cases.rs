//! Small random cases: an instrument, a hand, and a few demands, from a tune or made by hand.

use std::fmt;
use std::ops::RangeInclusive;

use handspan_core::demand::{Accompaniment, Demand, LineDemands, MelodyDemand, demands};
use handspan_core::grip::{BassChoice, Reach};
use handspan_core::hand::{Hand, HandSize};
use handspan_core::harmony::{Chord, ChordSymbol, Key, Kind, ToneSet};
use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::{Pitch, PitchClass};
use handspan_core::plan::{Aim, Lock, Locks, Plan};
use handspan_core::route::{self, Route};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::{Bar, ChordAt, MelodyNote, TempoAt, Tune, TuneParts};
use handspan_core::watch::Unwatched;

use crate::dice::Dice;
use crate::locks;
use crate::rules::Rules;

/// How many moments a case has.
const MOMENTS: RangeInclusive<usize> = 2..=5;

/// What plays, and what is demanded of it, locks included.
pub(crate) struct Case {
    pub(crate) reach: Reach,
    pub(crate) demands: Vec<Demand>,
}

impl Case {
    /// The easiest route, if there is any.
    pub(crate) fn easiest(&self) -> Option<Route> {
        route::easiest(&self.reach, &self.demands, Aim::LeastTotal, &Unwatched).ok()
    }
}

/// Whether a melody note sounds on.
pub(crate) const fn is_held(demand: &Demand) -> bool {
    matches!(demand.melody, MelodyDemand::SoundsOn { .. })
}

/// Everything that is needed to see what went wrong.
impl fmt::Debug for Case {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (instrument, hand) = (self.reach.instrument(), self.reach.hand());
        write!(f, "{instrument:?}\n{hand:?}\n{:#?}", self.demands)
    }
}

/// A case of any kind: a third from tunes, a third by hand, a third melodies over what rings long; half have locks.
pub(crate) fn case(dice: &mut Dice) -> Case {
    let (instrument, hand) = (instrument(dice), hand(dice));
    let reach = Reach::new(&instrument, &hand);
    let of_a_hundred = if dice.percent(50) { 50 } else { 0 };
    let demands = match dice.from(1, 3) {
        1 => {
            let tune = tune(dice, &instrument);
            let locks = plan_locks(dice, &reach, &tune, of_a_hundred);
            demands(&tune, &Plan { instrument, hand, locks, ..Plan::default() })
        }
        2 => {
            let mut demands = demands_by_hand(dice, &instrument);
            lock(dice, &reach, &mut demands, of_a_hundred);
            demands
        }
        _ => demands_over_a_ringing_chord(dice, &instrument),
    };
    Case { reach, demands }
}

/// Locks at so many of a hundred moments of a tune.
pub(crate) fn plan_locks(dice: &mut Dice, reach: &Reach, tune: &Tune, of_a_hundred: i64) -> Locks {
    let (instrument, hand) = (reach.instrument().clone(), *reach.hand());
    let bare = demands(tune, &Plan { instrument, hand, ..Plan::default() });
    let rules = Rules::new(reach, &bare);
    let mut all = Locks::default();
    for (moment, demand) in bare.iter().enumerate() {
        if dice.percent(of_a_hundred) {
            all.set(demand.at, locks::lock(dice, &rules, moment));
        }
    }
    all
}

/// Locks so many of a hundred demands.
pub(crate) fn lock(dice: &mut Dice, reach: &Reach, demands: &mut [Demand], of_a_hundred: i64) {
    for moment in 0..demands.len() {
        if dice.percent(of_a_hundred) {
            let lock = locks::lock(dice, &Rules::new(reach, demands), moment);
            let demand = &mut demands[moment];
            demand.lock = lock;
            if let (Some(wanted), Some(bass)) = (&mut demand.accompaniment, lock.bass) {
                wanted.bass = bass;
            }
        }
    }
}

/// Four to six strings in any tuning, fourths more or less, some of them re-entrant; twelve frets.
fn instrument(dice: &mut Dice) -> Instrument {
    let strings = dice.pick(&[4, 4, 4, 5, 5, 6]);
    let mut pitch = dice.from(38, 47);
    let mut low_to_high = Vec::new();
    for _ in 0..strings {
        low_to_high.push(Pitch::new(pitch as u8));
        pitch += if dice.percent(6) { dice.from(-9, 0) } else { dice.from(3, 7) };
    }
    let scale = Micrometres::new(1000 * dice.pick(&[580, 628, 650]));
    let capo = if dice.percent(15) { dice.from(1, 4) as u8 } else { 0 };
    Instrument::try_new(Tuning::from_low_to_high("random", low_to_high), 12, scale, capo)
        .expect("tuning, frets, scale and capo lie within their bounds")
}

/// Hands of every size; of some the thumb comes over the edge, of some the little finger plucks.
fn hand(dice: &mut Dice) -> Hand {
    let measured = HandSize::Measured(Micrometres::new(dice.from(80_000, 200_000) as i32));
    let sizes = [HandSize::Small, HandSize::Medium, HandSize::Large, measured];
    Hand { size: dice.pick(&sizes), thumb: dice.percent(30), little_plucks: dice.percent(30) }
}

/// A melody pitch that has a place, mostly low, so that few grips lie beneath.
pub(crate) fn melody_pitch(dice: &mut Dice, instrument: &Instrument) -> Pitch {
    let (lowest, highest) = instrument.range();
    let (lowest, highest) = (i64::from(lowest.midi()), i64::from(highest.midi()));
    loop {
        let up = if dice.percent(75) { dice.from(0, 17) } else { dice.from(0, highest - lowest) };
        let pitch = Pitch::new((lowest + up).min(highest) as u8);
        if instrument.places(pitch).next().is_some() {
            return pitch;
        }
    }
}

/// A tune of one to three bars with two to five moments.
pub(crate) fn tune(dice: &mut Dice, instrument: &Instrument) -> Tune {
    loop {
        let metre = Metre::try_new(dice.pick(&[2, 3, 4]), 4).expect("a metre of quarters");
        let bars: Vec<Bar> = (1..=dice.from(1, 3))
            .map(|number| Bar::plain(number.to_string(), metre.bar(), metre, Key::default()))
            .collect();
        let end = Ticks::new(metre.bar().count() * bars.len() as i64);
        let tempo = Tempo::try_new(dice.from(50, 260) as u16).expect("between 10 and 500");
        let parts = TuneParts {
            melody: melody(dice, instrument, end),
            chords: chords(dice, end),
            tempi: vec![TempoAt { at: Ticks::ZERO, tempo }],
            bars,
            ..TuneParts::default()
        };
        let Ok(tune) = Tune::try_new(parts) else { continue };
        let sings = !tune.melody().is_empty();
        if sings && MOMENTS.contains(&demands(&tune, &Plan::default()).len()) {
            return tune;
        }
    }
}

/// Notes and rests of an eighth to four quarters.
fn melody(dice: &mut Dice, instrument: &Instrument, end: Ticks) -> Vec<MelodyNote> {
    let mut notes = Vec::new();
    let mut at = Ticks::ZERO;
    while at < end {
        let length = Ticks::new(dice.pick(&[1, 2, 2, 3, 4, 6, 8]) * Ticks::PER_QUARTER / 2).min(end - at);
        if !dice.percent(20) {
            let pitch = melody_pitch(dice, instrument);
            let written = SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), 0));
            notes.push(MelodyNote { at, length, written, tied_in: false, tied_out: false });
        }
        at += length;
    }
    notes
}

/// Triads and sevenths, now and then none, at whole quarters.
fn chords(dice: &mut Dice, end: Ticks) -> Vec<ChordAt> {
    let kinds =
        [Kind::Major, Kind::Minor, Kind::Diminished, Kind::Dominant, Kind::MajorSeventh, Kind::MinorSeventh];
    let mut chords = Vec::new();
    let mut at = Ticks::ZERO;
    while at < end {
        if dice.percent(12) {
            chords.push(ChordAt { at, symbol: ChordSymbol::NoChord });
        } else if dice.percent(75) {
            let mut chord = Chord::plain(Spelling::from_fifths(dice.from(-5, 6) as i32), dice.pick(&kinds));
            if dice.percent(15) {
                chord.bass = Some(Spelling::from_fifths(dice.from(-5, 6) as i32));
            }
            chords.push(ChordAt { at, symbol: ChordSymbol::Chord(chord) });
        }
        at += Ticks::new(dice.from(1, 8) * Ticks::PER_QUARTER);
    }
    chords
}

/// Demands such as a tune hardly has: odd tones, exact basses, long ringing, any time for a move.
pub(crate) fn demands_by_hand(dice: &mut Dice, instrument: &Instrument) -> Vec<Demand> {
    let count = dice.from(*MOMENTS.start() as i64, *MOMENTS.end() as i64);
    let mut all: Vec<Demand> = Vec::new();
    let mut at = Ticks::ZERO;
    let mut rings_until = Ticks::ZERO;
    for note in 0..count as usize {
        let length = Ticks::new(dice.from(1, 6) * Ticks::PER_QUARTER / 2);
        let sounding = all.last().and_then(|demand| demand.melody.pitch());
        let melody = match (dice.from(1, 100), sounding) {
            (1..=30, Some(pitch)) => MelodyDemand::SoundsOn { pitch },
            (31..=40, _) => MelodyDemand::Rest,
            _ => MelodyDemand::Begins { note, pitch: melody_pitch(dice, instrument) },
        };
        let begins = matches!(melody, MelodyDemand::Begins { .. });
        let accompaniment = (!begins || dice.percent(45)).then(|| accompaniment(dice, instrument));
        if accompaniment.is_some() {
            rings_until = at + Ticks::new(dice.from(1, 16) * Ticks::PER_QUARTER);
        }
        let milliseconds = dice.from(60, 1800);
        all.push(Demand {
            at,
            length,
            milliseconds,
            melody,
            lines: LineDemands::SILENT,
            accompaniment,
            rings_until,
            lock: Lock::default(),
        });
        at += length;
    }
    all
}

/// One stroke that rings long, and one or two melody notes over it: what has to end above them weighs much.
fn demands_over_a_ringing_chord(dice: &mut Dice, instrument: &Instrument) -> Vec<Demand> {
    let mut all = demands_by_hand(dice, instrument);
    all.truncate(2 + usize::from(dice.percent(30)));
    let until = Ticks::new(dice.from(8, 24) * Ticks::PER_QUARTER);
    for (note, demand) in all.iter_mut().enumerate() {
        let pitch = demand.melody.pitch().unwrap_or_else(|| melody_pitch(dice, instrument));
        demand.melody = MelodyDemand::Begins { note, pitch };
        demand.rings_until = until;
        demand.accompaniment = match (note, demand.accompaniment) {
            (0, None) => Some(accompaniment(dice, instrument)),
            (0, some) => some,
            _ => None,
        };
    }
    all
}

/// One to three tones and any bass.
fn accompaniment(dice: &mut Dice, instrument: &Instrument) -> Accompaniment {
    let classes: Vec<PitchClass> = (0..dice.from(1, 3)).map(|_| dice.pick(&PitchClass::ALL)).collect();
    let (lowest, _) = instrument.range();
    let bass = match dice.from(1, 6) {
        1 => BassChoice::Free,
        2 => BassChoice::Exact(Pitch::new(lowest.midi() + dice.from(0, 12) as u8)),
        _ => BassChoice::Class(dice.pick(&classes)),
    };
    let guide_tones: ToneSet = classes.iter().copied().filter(|_| dice.percent(50)).collect();
    Accompaniment { bass, tones: classes.into_iter().collect(), guide_tones }
}
