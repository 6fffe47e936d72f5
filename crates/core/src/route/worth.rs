//! What a stroke under the melody is worth to the ear, in points that weigh against effort.
//!
//! Common practice, no source: guide tones tell one chord from another, a new tone says more than a doubling, low
//! close intervals are mud, and a bass is a bass when it is low.

use crate::demand::Accompaniment;
use crate::harmony::ToneSet;
use crate::pitch::Pitch;

/// A third or a seventh that nobody else sounds.
const GUIDE_TONE: i32 = 130;
/// Another tone of the chord that nobody else sounds.
const NEW_TONE: i32 = 90;
/// A tone that sounds already, in another octave.
const DOUBLING: i32 = 25;
/// Two strings at one pitch.
const UNISON: i32 = -70;
/// A close interval below its low-interval limit.
const MUD: i32 = -40;
/// Each semitone by which the bass lies above C3.
const HIGH_BASS: i32 = -20;

/// Low-interval limits from the minor second to the perfect fourth: the lower note should be at or above this MIDI
/// number (common practice in arranging handbooks, from memory; charts differ by a semitone or two).
const LOWEST: [u8; 5] = [52, 51, 48, 46, 46];

/// What letting an inner note go costs at once, and for each quarter note it would have rung.
const INNER_CUT: (i64, i64) = (20, 20);
/// The same for a bass note.
const BASS_CUT: (i64, i64) = (50, 40);

/// What the inner notes and the bass are worth beneath a melody note. `pitches` are all that sound, bass first where
/// there is one, in any order otherwise.
pub fn accompaniment(
    wanted: &Accompaniment,
    melody: Option<Pitch>,
    bass: Option<Pitch>,
    inner: &[Pitch],
) -> i32 {
    let mut sounding: ToneSet = melody.into_iter().chain(bass).map(Pitch::class).collect();
    let mut worth = 0;
    for (index, pitch) in inner.iter().enumerate() {
        let class = pitch.class();
        worth += match (sounding.contains(class), wanted.guide_tones.contains(class)) {
            (false, true) => GUIDE_TONE,
            (false, false) => NEW_TONE,
            (true, _) => DOUBLING,
        };
        if inner[..index].contains(pitch) {
            worth += UNISON;
        }
        sounding.insert(class);
    }
    worth + low_register(melody, bass, inner)
}

/// Mud, and basses that are none.
fn low_register(melody: Option<Pitch>, bass: Option<Pitch>, inner: &[Pitch]) -> i32 {
    let above_c3 = bass.map_or(0, |bass| i32::from(bass.midi().saturating_sub(48)));
    let mut pitches = [Pitch::new(Pitch::MAX); crate::neck::MAX_STRINGS];
    let mut count = 0;
    for pitch in melody.into_iter().chain(bass).chain(inner.iter().copied()) {
        pitches[count] = pitch;
        count += 1;
    }
    let pitches = &mut pitches[..count];
    pitches.sort_unstable();
    let mud = pitches.windows(2).filter(|pair| {
        let limit = usize::try_from((pair[1] - pair[0]).semitones() - 1).ok().and_then(|i| LOWEST.get(i));
        limit.is_some_and(|limit| pair[0].midi() < *limit)
    });
    MUD * mud.count() as i32 + HIGH_BASS * above_c3
}

/// What it costs to let a ringing note go so many ticks before its time.
pub fn cut(is_bass: bool, rings_on: crate::time::Ticks) -> i64 {
    let (at_once, per_quarter) = if is_bass { BASS_CUT } else { INNER_CUT };
    at_once + per_quarter * rings_on.count() / crate::time::Ticks::PER_QUARTER
}
