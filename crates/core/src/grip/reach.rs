//! One instrument under one hand, as tables: where fingers press and how far they reach.

use super::hold::{HOLDS, Hold};
use super::weights::Weights;
use crate::hand::span::{SEMITONE, Span};
use crate::hand::{Finger, FingerSet, Hand};
use crate::neck::geometry::Micrometres;
use crate::neck::{Fret, FretSet, Instrument, MAX_STRINGS, StringIndex};
use crate::pitch::Pitch;

/// How many digits the left hand has.
const DIGITS: usize = 5;
/// One more than the highest fret.
const FRETS: usize = Fret::MAX as usize + 1;

/// What fingering, effort and moves look up again and again, worked out once.
#[derive(Clone, Debug)]
pub struct Reach {
    instrument: Instrument,
    hand: Hand,
    press: [Micrometres; FRETS],
    spans: [[Span; DIGITS]; DIGITS],
    weights: Weights,
    /// How many [`SEMITONE`]s two frets are apart, rounded up.
    steps: [[u8; FRETS]; FRETS],
    /// By two fingers and their frets.
    beyond: Vec<[[Beyond; FRETS]; FRETS]>,
    /// By a finger, its fret and another fret.
    beside: Box<[[[FingerSet; FRETS]; FRETS]; DIGITS]>,
    /// By a fret.
    around: [FretSet; FRETS],
    /// What sounds, by string and [`Hold::packed`].
    sounds: Box<[[Option<Pitch>; HOLDS]; MAX_STRINGS]>,
}

/// How far two fingers go beyond what is easy, in half [`SEMITONE`]s, rounded down.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Beyond {
    /// Beyond relaxed.
    pub relaxed: u8,
    /// Beyond comfortable.
    pub comfortable: u8,
}

impl Reach {
    /// The tables of an instrument under a hand, with the program's own weights.
    pub fn new(instrument: &Instrument, hand: &Hand) -> Self {
        Self::weighing(instrument, hand, Weights::OWN)
    }

    /// The tables of an instrument under a hand that weighs effort in its own way.
    pub fn weighing(instrument: &Instrument, hand: &Hand, weights: Weights) -> Self {
        let mut press = [Micrometres::default(); FRETS];
        for number in 1..=instrument.last_fret().number() {
            press[usize::from(number)] = instrument.press_point(Fret::new(number));
        }
        let spans = Finger::ALL.map(|a| Finger::ALL.map(|b| hand.span(a, b)));
        Self {
            instrument: instrument.clone(),
            hand: *hand,
            press,
            spans,
            weights,
            steps: steps(&press),
            beyond: beyond(&press, &spans),
            beside: beside(&press, &spans),
            around: around(&press, widest(&spans)),
            sounds: sounds(instrument),
        }
    }

    /// The instrument.
    pub const fn instrument(&self) -> &Instrument {
        &self.instrument
    }

    /// The hand.
    pub const fn hand(&self) -> &Hand {
        &self.hand
    }

    /// What effort weighs.
    pub const fn weights(&self) -> &Weights {
        &self.weights
    }

    /// How far two fingers reach along the neck.
    pub const fn span(&self, a: Finger, b: Finger) -> Span {
        self.spans[a as usize][b as usize]
    }

    /// How far apart two frets are pressed.
    pub fn apart(&self, a: Fret, b: Fret) -> Micrometres {
        (self.press[a.number() as usize] - self.press[b.number() as usize]).abs()
    }

    /// How far apart two frets are pressed, in [`SEMITONE`]s, rounded up.
    pub const fn steps(&self, a: Fret, b: Fret) -> usize {
        self.steps[a.number() as usize][b.number() as usize] as usize
    }

    /// How far two fingers at these frets go beyond what is easy.
    pub fn beyond(&self, (a, a_at): (Finger, Fret), (b, b_at): (Finger, Fret)) -> Beyond {
        self.beyond[a as usize * DIGITS + b as usize][a_at.number() as usize][b_at.number() as usize]
    }

    /// What sounds on a string, none where it has no such fret.
    pub fn sounds(&self, string: StringIndex, hold: Hold) -> Option<Pitch> {
        self.sounds[string.index()][hold.packed() as usize]
    }

    /// The fingers that may stand at a fret while one stands where it does: in order, and no farther than they reach.
    /// At one fret that finger itself is among them.
    pub fn beside(&self, (finger, at): (Finger, Fret), fret: Fret) -> FingerSet {
        self.beside[finger as usize][usize::from(at.number())][usize::from(fret.number())]
    }

    /// The frets no farther from one than any two fingers reach, with the open string.
    pub fn around(&self, fret: Fret) -> FretSet {
        self.around[usize::from(fret.number())]
    }

    /// Whether the thumb may stop a string.
    pub fn thumb_may_hold(&self, string: StringIndex) -> bool {
        self.hand.thumb && string == self.instrument.lowest_string()
    }
}

fn steps(press: &[Micrometres; FRETS]) -> [[u8; FRETS]; FRETS] {
    let whole = SEMITONE.count();
    press.map(|a| press.map(|b| (((a - b).abs().count() + whole - 1) / whole) as u8))
}

fn beyond(press: &[Micrometres; FRETS], spans: &[[Span; DIGITS]; DIGITS]) -> Vec<[[Beyond; FRETS]; FRETS]> {
    let steps = |apart: Micrometres, limit: Micrometres| {
        ((apart - limit).count() * 2 / SEMITONE.count()).clamp(0, i32::from(u8::MAX)) as u8
    };
    let beyond = |span: &Span, apart: Micrometres| Beyond {
        relaxed: steps(apart, span.relaxed),
        comfortable: steps(apart, span.comfortable),
    };
    let spans = spans.iter().flatten();
    spans.map(|span| press.map(|a| press.map(|b| beyond(span, (a - b).abs())))).collect()
}

fn beside(
    press: &[Micrometres; FRETS],
    spans: &[[Span; DIGITS]; DIGITS],
) -> Box<[[[FingerSet; FRETS]; FRETS]; DIGITS]> {
    let mut all = Box::new([[[FingerSet::default(); FRETS]; FRETS]; DIGITS]);
    for (finger, all) in Finger::ALL.into_iter().zip(all.iter_mut()) {
        for (at, all) in all.iter_mut().enumerate() {
            for (fret, beside) in all.iter_mut().enumerate() {
                let is_beside = |other: &Finger| {
                    let thumb = finger == Finger::Thumb || *other == Finger::Thumb;
                    let in_order = thumb || at == fret || (finger < *other) == (at < fret);
                    let span = &spans[finger as usize][*other as usize];
                    let reaches = (press[at] - press[fret]).abs() <= span.practical;
                    if *other == finger { at == fret } else { in_order && reaches }
                };
                *beside = Finger::ALL.into_iter().filter(is_beside).collect();
            }
        }
    }
    all
}

/// The farthest two fingers of a hand can be apart at all.
fn widest(spans: &[[Span; DIGITS]; DIGITS]) -> Micrometres {
    let practical = |a: Finger, b: Finger| spans[a as usize][b as usize].practical;
    practical(Finger::Index, Finger::Little).max(practical(Finger::Thumb, Finger::Index))
}

fn around(press: &[Micrometres; FRETS], widest: Micrometres) -> [FretSet; FRETS] {
    let frets = || (0..=Fret::MAX).map(Fret::new);
    let apart = |a: Fret, b: Fret| (press[usize::from(a.number())] - press[usize::from(b.number())]).abs();
    let mut around = [FretSet::ALL; FRETS];
    for (here, around) in frets().zip(&mut around).skip(1) {
        *around = frets().filter(|there| there.is_open() || apart(here, *there) <= widest).collect();
    }
    around
}

fn sounds(instrument: &Instrument) -> Box<[[Option<Pitch>; HOLDS]; MAX_STRINGS]> {
    let mut all = Box::new([[None; HOLDS]; MAX_STRINGS]);
    for (string, all) in instrument.strings().zip(all.iter_mut()) {
        for hold in Hold::all() {
            all[hold.packed() as usize] = hold.sounds(instrument, string);
        }
    }
    all
}
