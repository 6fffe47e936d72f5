//! One instrument under one hand, as tables: where fingers press and how far they reach.

use super::grip::{HOLDS, Hold};
use super::weights::Weights;
use crate::hand::span::{SEMITONE, Span};
use crate::hand::{Finger, Hand};
use crate::neck::geometry::Micrometres;
use crate::neck::{Fret, Instrument, MAX_STRINGS, StringIndex};
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
    /// How many [`SEMITONE`]s two frets are apart, rounded up, 10 at the most.
    steps: [[u8; FRETS]; FRETS],
    /// By two fingers and their frets.
    beyond: Vec<[[Beyond; FRETS]; FRETS]>,
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
        let digits = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];
        let mut press = [Micrometres::default(); FRETS];
        for number in 1..=instrument.last_fret().number() {
            press[usize::from(number)] = instrument.press_point(Fret::new(number));
        }
        let spans = digits.map(|a| digits.map(|b| hand.span(a, b)));
        Self {
            instrument: instrument.clone(),
            hand: *hand,
            press,
            spans,
            weights,
            steps: steps(&press),
            beyond: beyond(&press, &spans),
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

    /// How far apart two frets are pressed, in [`SEMITONE`]s, rounded up, 10 at the most.
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

    /// The farthest two fingers of this hand can be apart at all.
    pub fn widest(&self) -> Micrometres {
        self.span(Finger::Index, Finger::Little)
            .practical
            .max(self.span(Finger::Thumb, Finger::Index).practical)
    }

    /// Whether the thumb may stop a string.
    pub fn thumb_may_hold(&self, string: StringIndex) -> bool {
        self.hand.thumb && string == self.instrument.lowest_string()
    }
}

fn steps(press: &[Micrometres; FRETS]) -> [[u8; FRETS]; FRETS] {
    let whole = SEMITONE.count();
    press.map(|a| press.map(|b| (((a - b).abs().count() + whole - 1) / whole).min(10) as u8))
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

fn sounds(instrument: &Instrument) -> Box<[[Option<Pitch>; HOLDS]; MAX_STRINGS]> {
    let mut all = Box::new([[None; HOLDS]; MAX_STRINGS]);
    for (string, all) in instrument.strings().zip(all.iter_mut()) {
        for hold in Hold::all() {
            all[hold.packed() as usize] = hold.sounds(instrument, string);
        }
    }
    all
}
