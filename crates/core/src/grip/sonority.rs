//! How a voicing sounds, apart from how it lies under the hand: spacing, doublings, what is missing, open strings.
//!
//! Points are on the scale of effort: so much harder a grip may be before a player takes the better sounding one. They
//! are learned from published guitar music (`handspan-measure sonority`), from the voicings that were printed against
//! all that could have stood in their places; only the limits of low intervals come from handbooks.

use super::effort::Effort;
use super::voicing::Voicing;
use crate::harmony::ToneSet;
use crate::neck::Instrument;
use crate::pitch::Pitch;

/// A reason why a voicing sounds better or worse than its effort says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum SoundTerm {
    /// Tones of the chord that do not sound.
    Missing,
    /// The distance from the lowest note to the next.
    Depth,
    /// The distances between the other neighbours.
    Spacing,
    /// Intervals too low to be told apart.
    Mud,
    /// Tones that sound in two octaves.
    Doubling,
    /// A pitch that sounds on two strings.
    Unison,
    /// Open strings: their ring.
    Open,
}

impl SoundTerm {
    /// Every term, in the order in which they are shown.
    pub const ALL: [Self; 7] =
        [Self::Missing, Self::Depth, Self::Spacing, Self::Mud, Self::Doubling, Self::Unison, Self::Open];

    /// The term in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Missing => "missing tones",
            Self::Depth => "distance to the bass",
            Self::Spacing => "spacing",
            Self::Mud => "low intervals",
            Self::Doubling => "doublings",
            Self::Unison => "unisons",
            Self::Open => "ringing open strings",
        }
    }

    /// How many different cases the term tells apart.
    pub const fn cases(self) -> usize {
        match self {
            Self::Depth | Self::Spacing => WIDTHS.len(),
            Self::Doubling => 3,
            Self::Missing | Self::Mud | Self::Unison | Self::Open => 1,
        }
    }

    /// Where the term's cases begin among all of them.
    const fn first(self) -> usize {
        let mut first = 0;
        let mut index = 0;
        while index < self as usize {
            first += Self::ALL[index].cases();
            index += 1;
        }
        first
    }
}

/// The widest interval of every class of distances, in semitones: seconds, thirds, fourths, up to fifths, sixths,
/// sevenths, the octave, tenths, twelfths, two octaves; the last class is wider.
const WIDTHS: [u8; 10] = [2, 4, 5, 7, 9, 11, 12, 16, 19, u8::MAX];

/// The lowest note over which an interval of one to five semitones is still clear: low-interval limits as arranging
/// handbooks give them (common practice, from memory; charts differ by a semitone or two). A guideline, no rule.
const LOW_LIMITS: [u8; 5] = [52, 51, 48, 46, 46];

/// How many cases all terms have together.
pub const CASES: usize = SoundTerm::Open.first() + SoundTerm::Open.cases();

/// What every case costs, by terms in the order of [`SoundTerm::ALL`].
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Taste {
    points: [i32; CASES],
}

impl Taste {
    /// What guitarists chose in published music, learned by `handspan-measure sonority`.
    pub const LEARNED: Self = Self::new([
        93, -125, -32, 43, -23, -25, -39, -4, -27, -65, -74, -56, -83, -36, -34, 7, 40, 72, 55, 30, 81, 17,
        73, 99, 87, 100, -3,
    ]);

    /// A taste of these points.
    pub const fn new(points: [i32; CASES]) -> Self {
        Self { points }
    }

    /// What a case of a term costs.
    pub const fn points(&self, term: SoundTerm, case: usize) -> i32 {
        self.points[term.first() + case]
    }
}

/// How a voicing sounds, term by term: smaller is better.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default)]
pub struct Sonority {
    points: [i32; SoundTerm::ALL.len()],
}

impl Sonority {
    /// The terms that cost or gain something.
    pub fn terms(&self) -> impl Iterator<Item = (SoundTerm, Effort)> + '_ {
        SoundTerm::ALL.into_iter().zip(self.points.map(Effort::new)).filter(|(_, e)| *e != Effort::NONE)
    }

    /// All terms together.
    pub fn total(&self) -> Effort {
        Effort::new(self.points.iter().sum())
    }
}

/// How a voicing of a chord's tones sounds to a taste.
pub fn sonority(taste: &Taste, instrument: &Instrument, tones: ToneSet, voicing: &Voicing) -> Sonority {
    let mut sonority = Sonority::default();
    each_case(instrument, tones, voicing, |term, case, count| {
        sonority.points[term as usize] += count * taste.points(term, case);
    });
    sonority
}

/// Names every case that a voicing shows, and how often: the one statement of what is heard and what is learned.
pub fn each_case(
    instrument: &Instrument,
    tones: ToneSet,
    voicing: &Voicing,
    mut count: impl FnMut(SoundTerm, usize, i32),
) {
    let mut pitches = [Pitch::new(0); crate::neck::MAX_STRINGS];
    let mut len = 0;
    for (slot, pitch) in pitches.iter_mut().zip(voicing.pitches(instrument)) {
        *slot = pitch;
        len += 1;
    }
    let pitches = &mut pitches[..len];
    pitches.sort_unstable();
    let sounding: ToneSet = pitches.iter().map(|pitch| pitch.class()).collect();
    let missing = tones.iter().filter(|class| !sounding.contains(*class)).count();
    count(SoundTerm::Missing, 0, missing as i32);
    spacing(pitches, &mut count);
    doublings(pitches, &mut count);
    let open = voicing.places().filter(|place| place.fret.is_open()).count();
    count(SoundTerm::Open, 0, open as i32);
}

fn spacing(pitches: &[Pitch], count: &mut impl FnMut(SoundTerm, usize, i32)) {
    for (index, pair) in pitches.windows(2).enumerate() {
        let width = pair[1].midi() - pair[0].midi();
        if width == 0 {
            count(SoundTerm::Unison, 0, 1);
            continue;
        }
        let class = WIDTHS.iter().position(|widest| width <= *widest).unwrap_or(WIDTHS.len() - 1);
        count(if index == 0 { SoundTerm::Depth } else { SoundTerm::Spacing }, class, 1);
        let limit = LOW_LIMITS.get(usize::from(width) - 1);
        count(SoundTerm::Mud, 0, i32::from(limit.is_some_and(|limit| pair[0].midi() < *limit)));
    }
}

/// Tones that sound in several octaves: the melody's, the bass's, another.
fn doublings(pitches: &[Pitch], count: &mut impl FnMut(SoundTerm, usize, i32)) {
    let (Some(bass), Some(melody)) = (pitches.first(), pitches.last()) else { return };
    for (index, pitch) in pitches.iter().enumerate().skip(1) {
        let below = &pitches[..index];
        if below.iter().any(|other| other != pitch && other.class() == pitch.class()) {
            let case = match pitch.class() {
                class if class == melody.class() => 0,
                class if class == bass.class() => 1,
                _ => 2,
            };
            count(SoundTerm::Doubling, case, 1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cases(frets: &str, tones: &[u8]) -> Vec<(SoundTerm, usize, i32)> {
        let mut all = Vec::new();
        let tones = tones.iter().map(|class| Pitch::new(*class).class()).collect();
        let voicing = frets.parse().unwrap();
        each_case(&Instrument::classical(), tones, &voicing, |term, case, count| {
            if count > 0 {
                all.push((term, case, count));
            }
        });
        all
    }

    #[test]
    fn an_open_c_major_chord_is_told_case_by_case() {
        use SoundTerm::{Depth, Doubling, Open, Spacing};
        // C3 E3 G3 C4 E4
        let heard = cases("x32010", &[0, 4, 7]);
        let expected = [
            (Depth, 1, 1),
            (Spacing, 1, 1),
            (Spacing, 2, 1),
            (Spacing, 1, 1),
            (Doubling, 1, 1),
            (Doubling, 0, 1),
            (Open, 0, 2),
        ];
        assert_eq!(heard, expected);
    }

    #[test]
    fn low_thirds_missing_tones_and_unisons_are_heard() {
        assert!(cases("04xxxx", &[4, 1]).contains(&(SoundTerm::Depth, 4, 1)));
        // F2 and A2: a third below the limit.
        assert!(cases("10xxxx", &[5, 9]).contains(&(SoundTerm::Mud, 0, 1)));
        assert!(cases("xx0232", &[2, 6, 9, 0]).contains(&(SoundTerm::Missing, 0, 1)));
        assert!(cases("xxxx50", &[4]).contains(&(SoundTerm::Unison, 0, 1)));
    }

    #[test]
    fn terms_have_places_of_their_own() {
        let firsts: Vec<usize> = SoundTerm::ALL.iter().map(|term| term.first()).collect();
        assert!(firsts.is_sorted() && firsts.windows(2).all(|pair| pair[0] < pair[1]), "{firsts:?}");
        assert_eq!(CASES, 27);
    }
}
