//! Every voicing that meets a wish, string by string.

use std::ops::RangeInclusive;

use super::grip::Grip;
use super::reach::Reach;
use super::voicing::{BassChoice, Voicing};
use crate::hand::Finger;
use crate::harmony::{Chord, ToneSet};
use crate::neck::{Fret, FretSet, Instrument, MAX_STRINGS, Place, StringIndex};
use crate::pitch::{Interval, Pitch};

/// What a voicing has to be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct VoicingWish {
    /// The melody note: one string sounds it and every other string sounds lower. None where there is no melody: then
    /// nothing bounds the top.
    pub melody: Option<Pitch>,
    /// The only string the melody may sound on, where that is locked.
    pub melody_string: Option<StringIndex>,
    /// What may be lowest. Anything but [`BassChoice::Free`] asks for a note beneath the melody, and may sound between
    /// as well.
    pub bass: BassChoice,
    /// The classes that may sound between and in a free bass.
    pub tones: ToneSet,
    /// The classes that must sound somewhere, melody and bass included.
    pub required: ToneSet,
    /// How many strings sound, held ones included.
    pub notes: RangeInclusive<usize>,
    /// What rings on, on its string under its finger.
    pub held: Grip,
}

impl VoicingWish {
    /// Three to five notes of a chord with its bass beneath, no melody yet.
    pub fn for_chord(chord: &Chord) -> Self {
        Self {
            melody: None,
            melody_string: None,
            bass: BassChoice::Class(chord.bass_class()),
            tones: chord.tones(),
            required: ToneSet::EMPTY,
            notes: 3..=5,
            held: Grip::SILENT,
        }
    }

    /// A melody note and nothing else.
    pub fn melody_alone(melody: Pitch) -> Self {
        Self {
            melody: Some(melody),
            melody_string: None,
            bass: BassChoice::Free,
            tones: ToneSet::EMPTY,
            required: ToneSet::EMPTY,
            notes: 1..=1,
            held: Grip::SILENT,
        }
    }

    /// Whether what sounds, in any order, meets the wish; the strings themselves aside.
    fn admits(&self, pitches: &[Pitch]) -> bool {
        let Some(lowest) = pitches.iter().min() else {
            return false;
        };
        let beneath = self.bass == BassChoice::Free || self.melody.is_none_or(|melody| *lowest < melody);
        let crowned = self.melody.is_none_or(|melody| {
            pitches.iter().all(|p| *p <= melody) && pitches.iter().filter(|p| **p == melody).count() == 1
        });
        let complete = self.required == ToneSet::EMPTY
            || pitches.iter().map(|p| p.class()).collect::<ToneSet>().contains_all(self.required);
        beneath && crowned && self.bass.admits(*lowest) && complete
    }

    /// Whether a string that is not held may sound a pitch.
    fn lets_sound(&self, string: StringIndex, pitch: Pitch) -> bool {
        if Some(pitch) == self.melody {
            return self.melody_string.is_none_or(|only| only == string);
        }
        let below = self.melody.is_none_or(|melody| pitch < melody);
        let wanted =
            self.tones.contains(pitch.class()) || (self.bass != BassChoice::Free && self.bass.admits(pitch));
        below && wanted
    }
}

/// Every voicing that meets the wish, none twice, in the order of its frets: those that no hand could hold, because
/// they are wider than any two fingers reach, are left out where a reach is given.
///
/// Without a reach this is the plain enumeration of the neck.
pub fn voicings(
    instrument: &Instrument,
    reach: Option<&Reach>,
    wish: &VoicingWish,
    mut found: impl FnMut(Voicing),
) {
    let mut search = Search {
        wish,
        reach,
        open: [Pitch::new(0); MAX_STRINGS],
        frets: [FretSet::EMPTY; MAX_STRINGS],
        sung: [FretSet::EMPTY; MAX_STRINGS],
        voicing: wish.held.voicing(),
        pitches: [Pitch::new(0); MAX_STRINGS],
        count: 0,
    };
    search.choose(instrument);
    let fingers = wish.held.stopped().filter(|(_, finger)| *finger != Finger::Thumb);
    let within = fingers.fold(FretSet::ALL, |within, (place, _)| search.narrowed(within, place.fret));
    search.string(instrument.string_count(), within, wish.melody.is_none(), &mut found);
}

struct Search<'a> {
    wish: &'a VoicingWish,
    reach: Option<&'a Reach>,
    /// By string, here and below: what its frets count from, those that may sound, and of them those that sound the
    /// melody.
    open: [Pitch; MAX_STRINGS],
    frets: [FretSet; MAX_STRINGS],
    sung: [FretSet; MAX_STRINGS],
    voicing: Voicing,
    pitches: [Pitch; MAX_STRINGS],
    count: usize,
}

impl Search<'_> {
    /// Works out what every string may sound; a held string nothing but what it holds.
    fn choose(&mut self, instrument: &Instrument) {
        for string in instrument.strings() {
            let index = string.index();
            self.open[index] = instrument.open_pitch(string);
            for fret in (0..=instrument.last_fret().number()).map(Fret::new) {
                let Some(pitch) = instrument.sounding(Place { string, fret }) else { continue };
                let may = match self.wish.held.hold(string) {
                    Some(hold) => hold.fret() == fret,
                    None => self.wish.lets_sound(string, pitch),
                };
                if may {
                    self.frets[index].insert(fret);
                    if Some(pitch) == self.wish.melody {
                        self.sung[index].insert(fret);
                    }
                }
            }
        }
    }

    /// What is left of frets within reach once another one is stopped as well.
    fn narrowed(&self, within: FretSet, fret: Fret) -> FretSet {
        self.reach.map_or(within, |reach| within.intersection(reach.around(fret)))
    }

    /// What a string may sound within reach: a held one what it holds in any case.
    fn choices(&self, string: StringIndex, of: FretSet, within: FretSet) -> FretSet {
        if self.wish.held.hold(string).is_some() { of } else { of.intersection(within) }
    }

    /// Decides the strings below index `left`, the lowest string first. `within` are the frets that a hand reaches
    /// besides what is stopped; `crowned` says whether there is nothing more to do for the melody.
    fn string(&mut self, left: usize, within: FretSet, crowned: bool, found: &mut impl FnMut(Voicing)) {
        let may_sing =
            |string: StringIndex| !self.choices(string, self.sung[string.index()], within).is_empty();
        let hopeless = !crowned && !StringIndex::all(left).any(may_sing);
        if hopeless || self.count + left < *self.wish.notes.start() {
            return;
        }
        if left == 0 {
            if self.wish.admits(&self.pitches[..self.count]) {
                found(self.voicing);
            }
            return;
        }
        let string = StringIndex::new(left - 1);
        let held = self.wish.held.hold(string).is_some();
        if !held {
            self.string(left - 1, within, crowned, found);
        }
        if self.count >= *self.wish.notes.end() {
            return;
        }
        let open = self.open[string.index()];
        for fret in self.choices(string, self.frets[string.index()], within).each() {
            let Some(pitch) = open.checked_add(Interval::new(i16::from(fret.number()))) else { continue };
            let sings = Some(pitch) == self.wish.melody;
            if sings && crowned {
                continue;
            }
            self.voicing.set(string, Some(fret));
            self.pitches[self.count] = pitch;
            self.count += 1;
            let within = if held { within } else { self.narrowed(within, fret) };
            self.string(left - 1, within, crowned || sings, found);
            self.count -= 1;
        }
        if !held {
            self.voicing.set(string, None);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::harmony::Kind;
    use crate::neck::Tuning;
    use crate::spelling::{Spelling, Step};

    /// Voicings of 3 to 6 notes with exactly the chord's classes, frets 0 to 12, stopped frets at most 3 apart.
    fn count((root, kind): (Step, Kind)) -> usize {
        let guitar = Instrument::try_new(Tuning::standard(), 12, Instrument::CLASSICAL_SCALE, 0).unwrap();
        let chord = Chord::plain(Spelling::new(root, 0), kind);
        let tones = chord.tones();
        let wish = VoicingWish {
            bass: BassChoice::Free,
            tones,
            required: tones,
            notes: 3..=6,
            ..VoicingWish::for_chord(&chord)
        };
        let mut count = 0;
        voicings(&guitar, None, &wish, |voicing| {
            let stopped = || voicing.places().map(|p| p.fret.number()).filter(|f| *f > 0);
            let span = stopped().max().unwrap_or(0) - stopped().min().unwrap_or(0);
            count += usize::from(span <= 3);
        });
        count
    }

    /// Computed independently for this project, with no hand model.
    #[test]
    fn counts_of_plain_enumeration() {
        let chords = [
            (Step::C, Kind::Major),
            (Step::A, Kind::Minor),
            (Step::E, Kind::Major),
            (Step::G, Kind::Dominant),
            (Step::C, Kind::MajorSeventh),
        ];
        assert_eq!(chords.map(count), [475, 485, 487, 306, 600]);
    }
}
