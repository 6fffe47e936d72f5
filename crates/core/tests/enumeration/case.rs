//! Random cases from a fixed seed: an instrument, a hand and a wish.

use handspan_core::grip::{BassChoice, Grip, Hold, VoicingWish};
use handspan_core::hand::{Finger, Hand, HandSize};
use handspan_core::harmony::ToneSet;
use handspan_core::neck::geometry::Micrometres;
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Tuning};
use handspan_core::pitch::{Pitch, PitchClass};

/// One question to the enumeration.
#[derive(Debug)]
pub(super) struct Case {
    pub(super) instrument: Instrument,
    pub(super) hand: Hand,
    pub(super) wish: VoicingWish,
}

/// Cases without end, the same every time.
pub(super) struct Cases {
    state: u64,
}

impl Cases {
    pub(super) const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// A number below `bound` (xorshift, Marsaglia 2003).
    const fn below(&mut self, bound: u64) -> u64 {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        (self.state >> 16) % bound
    }

    /// True in so many of a hundred.
    const fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }

    fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len() as u64) as usize]
    }

    fn instrument(&mut self) -> Instrument {
        let strings = 4 + self.below(5) as usize;
        let open: Vec<u8> = if strings == 6 {
            self.one_of(&Tuning::COMMON).1.to_vec()
        } else {
            let mut pitch = 33 + self.below(12) as u8;
            let steps = (0..strings).map(|_| {
                pitch += self.one_of(&[2, 3, 4, 5, 5, 5, 7]);
                pitch
            });
            steps.collect()
        };
        let tuning = Tuning::from_low_to_high("random", open.into_iter().map(Pitch::new));
        // A capo leaves a short neck, so that the product stays small; without one the chord has few tones.
        let capo = if self.chance(60) { 4 + self.below(4) as u8 } else { 0 };
        let scale = Micrometres::new(500_000 + 50_000 * self.below(6) as i32);
        Instrument::try_new(tuning, 12, scale, capo).unwrap()
    }

    fn hand(&mut self) -> Hand {
        let measured = HandSize::Measured(Micrometres::new(80_000 + 1_000 * self.below(121) as i32));
        Hand {
            size: self.one_of(&[HandSize::Small, HandSize::Medium, HandSize::Large, measured]),
            thumb: self.chance(40),
            little_plucks: false,
        }
    }

    /// Some strings, open or at frets near one another: what the wish is made from, so that most wishes can be met.
    fn places(&mut self, instrument: &Instrument) -> Vec<Place> {
        let last = u64::from(instrument.last_fret().number());
        let lowest = 1 + self.below(last - 3);
        let mut strings: Vec<StringIndex> = instrument.strings().collect();
        let count = 1 + self.below(if instrument.capo() > 0 { 5 } else { 3 });
        let place = |_| {
            let string = strings.swap_remove(self.below(strings.len() as u64) as usize);
            let fret = if self.chance(25) { 0 } else { lowest + self.below(4) };
            Place { string, fret: Fret::new(fret as u8) }
        };
        (0..count.min(4)).map(place).collect()
    }

    /// Some of the places ring on, now and then under fingers that cannot be together.
    fn held(&mut self, places: &[Place]) -> Grip {
        let mut held = Grip::SILENT;
        for place in places {
            if self.chance(50) {
                let finger = (!place.fret.is_open()).then(|| self.one_of(&Finger::FOUR));
                held.set(place.string, Some(Hold::plain(place.fret, finger)));
            }
        }
        held
    }

    fn wish(&mut self, instrument: &Instrument) -> VoicingWish {
        let places = self.places(instrument);
        let pitches: Vec<Pitch> = places.iter().map(|p| instrument.sounding(*p).unwrap()).collect();
        let (lowest, highest) = (*pitches.iter().min().unwrap(), *pitches.iter().max().unwrap());
        let anything = PitchClass::from_semitones(self.below(12) as i32);
        let mut tones: ToneSet = pitches.iter().map(|pitch| pitch.class()).collect();
        let required = match (self.chance(10), self.chance(30)) {
            (true, _) => [anything].into_iter().collect(),
            (_, true) => tones,
            _ => ToneSet::EMPTY,
        };
        let of_places = [BassChoice::Free, BassChoice::Class(lowest.class()), BassChoice::Exact(lowest)];
        let bass = if self.chance(10) { BassChoice::Class(anything) } else { self.one_of(&of_places) };
        if self.chance(30) {
            tones.insert(anything);
        }
        let melody = self.chance(60).then_some(highest);
        let fewest = places.len().saturating_sub(self.below(3) as usize).max(1);
        VoicingWish {
            melody,
            melody_string: melody.filter(|_| self.chance(10)).map(|_| self.one_of(&places).string),
            bass,
            tones,
            required,
            notes: fewest..=fewest + self.below(3) as usize,
            held: if self.chance(40) { self.held(&places) } else { Grip::SILENT },
        }
    }
}

impl Iterator for Cases {
    type Item = Case;

    fn next(&mut self) -> Option<Case> {
        let instrument = self.instrument();
        let hand = self.hand();
        let wish = self.wish(&instrument);
        Some(Case { instrument, hand, wish })
    }
}
