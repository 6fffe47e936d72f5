//! Every voicing that meets a wish, string by string.

use std::ops::RangeInclusive;

use super::grip::Grip;
use super::reach::Reach;
use super::voicing::{BassChoice, Voicing};
use crate::harmony::{Chord, ToneSet};
use crate::neck::{Fret, Instrument, StringIndex};
use crate::pitch::Pitch;

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

    /// Whether what sounds, lowest string first or in any order, meets the wish; the strings themselves aside.
    fn admits(&self, pitches: &[Pitch]) -> bool {
        let Some(lowest) = pitches.iter().min() else {
            return false;
        };
        let sounding: ToneSet = pitches.iter().map(|p| p.class()).collect();
        let beneath = self.bass == BassChoice::Free || self.melody.is_none_or(|melody| *lowest < melody);
        let crowned = self.melody.is_none_or(|melody| {
            pitches.iter().all(|p| *p <= melody) && pitches.iter().filter(|p| **p == melody).count() == 1
        });
        beneath && crowned && self.bass.admits(*lowest) && sounding.contains_all(self.required)
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
        instrument,
        reach,
        wish,
        voicing: wish.held.voicing(),
        pitches: [Pitch::new(0); crate::neck::MAX_STRINGS],
        count: 0,
        lowest: None,
        highest: None,
    };
    let held =
        wish.held.stopped().filter(|(_, f)| *f != crate::hand::Finger::Thumb).map(|(place, _)| place.fret);
    for fret in held {
        search.widen(fret);
    }
    search.string(instrument.string_count(), &mut found);
}

struct Search<'a> {
    instrument: &'a Instrument,
    reach: Option<&'a Reach>,
    wish: &'a VoicingWish,
    voicing: Voicing,
    pitches: [Pitch; crate::neck::MAX_STRINGS],
    count: usize,
    /// The lowest and the highest stopped fret so far.
    lowest: Option<Fret>,
    highest: Option<Fret>,
}

impl Search<'_> {
    /// Decides the strings below index `left`, the lowest string first.
    fn string(&mut self, left: usize, found: &mut impl FnMut(Voicing)) {
        if self.count + left < *self.wish.notes.start() {
            return;
        }
        if left == 0 {
            if self.wish.admits(&self.pitches[..self.count]) {
                found(self.voicing);
            }
            return;
        }
        let string = StringIndex::new(left - 1);
        if let Some(hold) = self.wish.held.hold(string) {
            self.sound(string, hold.fret, left, found);
            return;
        }
        self.string(left - 1, found);
        if self.count >= *self.wish.notes.end() {
            return;
        }
        for number in 0..=self.instrument.last_fret().number() {
            let fret = Fret::new(number);
            if !self.may_sound(string, fret) {
                continue;
            }
            let (lowest, highest) = (self.lowest, self.highest);
            if !fret.is_open() {
                self.widen(fret);
            }
            if self.within_reach() {
                self.voicing.set(string, Some(fret));
                self.sound(string, fret, left, found);
                self.voicing.set(string, None);
            }
            (self.lowest, self.highest) = (lowest, highest);
        }
    }

    /// Goes on with a string that sounds.
    fn sound(&mut self, string: StringIndex, fret: Fret, left: usize, found: &mut impl FnMut(Voicing)) {
        let Some(pitch) = self.pitch(string, fret) else {
            return;
        };
        self.pitches[self.count] = pitch;
        self.count += 1;
        if self.count <= *self.wish.notes.end() {
            self.string(left - 1, found);
        }
        self.count -= 1;
    }

    fn pitch(&self, string: StringIndex, fret: Fret) -> Option<Pitch> {
        self.instrument.sounding(crate::neck::Place { string, fret })
    }

    fn may_sound(&self, string: StringIndex, fret: Fret) -> bool {
        let Some(pitch) = self.pitch(string, fret) else {
            return false;
        };
        if Some(pitch) == self.wish.melody {
            return self.wish.melody_string.is_none_or(|only| only == string);
        }
        let below = self.wish.melody.is_none_or(|melody| pitch < melody);
        let wanted = self.wish.tones.contains(pitch.class())
            || (self.wish.bass != BassChoice::Free && self.wish.bass.admits(pitch));
        below && wanted
    }

    fn widen(&mut self, fret: Fret) {
        self.lowest = Some(self.lowest.map_or(fret, |lowest| lowest.min(fret)));
        self.highest = Some(self.highest.map_or(fret, |highest| highest.max(fret)));
    }

    fn within_reach(&self) -> bool {
        match (self.reach, self.lowest, self.highest) {
            (Some(reach), Some(lowest), Some(highest)) => reach.apart(lowest, highest) <= reach.widest(),
            _ => true,
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
