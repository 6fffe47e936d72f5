//! What the player chooses among at a moment.

use super::arrangement::{Arrangement, Work};
use crate::demand::{Demand, MelodyDemand, Part, demands};
use crate::grip::ranking::each_grip;
use crate::grip::{Reach, VoicingWish};
use crate::harmony::{Chord, ChordSymbol, ToneSet};

/// The voicings of three to five notes with the moment's melody note on top and its bass beneath.
///
/// They sound all tones that the chord cannot do without; where no hand can hold any such voicing, at least the guide
/// tones; where that cannot be either, whatever tones there are room for. None where neither chord nor melody sounds.
pub fn wish_at(work: &Work, arrangement: &Arrangement, moment: usize) -> Option<VoicingWish> {
    let tune = &arrangement.score.tune;
    let at = arrangement.moments.get(moment)?.at;
    let demand = demands(tune, &work.plan).into_iter().find(|demand| demand.at == at)?;
    let chord = tune.chord_at(at).and_then(ChordSymbol::chord);
    let mut wish = match (chord, demand.melody.pitch()) {
        (Some(chord), melody) => VoicingWish { melody, ..VoicingWish::for_chord(chord) },
        (None, Some(melody)) => VoicingWish::melody_alone(melody),
        (None, None) => return None,
    };
    wish.bass = demand.lock.bass.unwrap_or(wish.bass);
    wish.melody_string = demand.lock.melody;
    wish.held = held_melody(arrangement, moment, &demand);
    wish.required = chord.map_or(ToneSet::EMPTY, |chord| most_required(work, chord, &wish));
    Some(wish)
}

/// The melody note that sounds on, on its string under its finger.
fn held_melody(arrangement: &Arrangement, moment: usize, demand: &Demand) -> crate::grip::Grip {
    let sounds_on = matches!(demand.melody, MelodyDemand::SoundsOn { .. });
    let melody = arrangement.score.sounding_at(demand.at).filter(|n| sounds_on && n.part == Part::Melody);
    arrangement.moments[moment].grip.only(melody.map(|note| note.place.string).collect())
}

/// The most of a chord's needed tones that some grip can sound.
fn most_required(work: &Work, chord: &Chord, wish: &VoicingWish) -> ToneSet {
    let reach = Reach::new(&work.plan.instrument, &work.plan.hand);
    let can_be = |required: &ToneSet| {
        let mut any = false;
        each_grip(&reach, &VoicingWish { required: *required, ..wish.clone() }, |_| any = true);
        any
    };
    [chord.required(), chord.guide_tones()].into_iter().find(can_be).unwrap_or_default()
}
