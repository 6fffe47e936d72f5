//! The plain product: every fret on every string, every finger on every stopped string, nothing pruned; what the wish
//! and the judge refuse is left out at the end.

use std::collections::BTreeSet;

use handspan_core::check;
use handspan_core::grip::{BassChoice, Grip, Hold};
use handspan_core::hand::Finger;
use handspan_core::harmony::ToneSet;
use handspan_core::neck::{Fret, Place, StringIndex};
use handspan_core::pitch::Pitch;

use super::case::Case;

/// Products larger than this are too slow to be compared.
const MOST_VOICINGS: usize = 20_000;
const MOST_FINGERINGS: usize = 30_000;

const DIGITS: [Finger; 5] = [Finger::Thumb, Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];

/// What each string may do: the frets of one voicing.
pub(super) type Frets = Vec<(StringIndex, Fret)>;

/// Every voicing that meets the wish; none where the product is too large.
pub(super) fn voicings(case: &Case) -> Option<Vec<Frets>> {
    let choices: Vec<Vec<Option<Place>>> = case.instrument.strings().map(|s| choices(case, s)).collect();
    let size = choices.iter().try_fold(1_usize, |size, c| size.checked_mul(c.len()));
    if size? > MOST_VOICINGS {
        return None;
    }
    let mut all: Vec<Vec<Place>> = vec![Vec::new()];
    for choice in &choices {
        all = all
            .iter()
            .flat_map(|before| choice.iter().map(move |place| [before.as_slice(), place.as_slice()].concat()))
            .collect();
    }
    all.retain(|places| is_wished(case, places));
    let stops = |places: &Vec<Place>| places.iter().filter(|p| !p.fret.is_open()).count() as u32;
    let fingerings: usize = all.iter().map(|places| DIGITS.len().pow(stops(places))).sum();
    let frets = |places: &Vec<Place>| places.iter().map(|p| (p.string, p.fret)).collect();
    (fingerings <= MOST_FINGERINGS).then(|| all.iter().map(frets).collect())
}

/// Silence and every fret whose note may sound at all; a held string does what it does.
fn choices(case: &Case, string: StringIndex) -> Vec<Option<Place>> {
    if let Some(hold) = case.wish.held.hold(string) {
        return vec![Some(Place { string, fret: hold.fret() })];
    }
    let frets = (0..=case.instrument.last_fret().number()).map(Fret::new);
    let places = frets.map(|fret| Place { string, fret });
    let wanted = places.filter(|place| {
        let pitch = case.instrument.sounding(*place).unwrap();
        let bass = case.wish.bass != BassChoice::Free && case.wish.bass.admits(pitch);
        Some(pitch) == case.wish.melody || case.wish.tones.contains(pitch.class()) || bass
    });
    [None].into_iter().chain(wanted.map(Some)).collect()
}

fn is_wished(case: &Case, places: &[Place]) -> bool {
    let wish = &case.wish;
    let pitches: Vec<Pitch> = places.iter().map(|place| case.instrument.sounding(*place).unwrap()).collect();
    let Some(lowest) = pitches.iter().min() else {
        return false;
    };
    let melody_on_top = wish.melody.is_none_or(|melody| {
        let mut singing = places.iter().zip(&pitches).filter(|(_, pitch)| **pitch == melody);
        let there = singing.next().is_some_and(|(place, _)| {
            let held = wish.held.hold(place.string).is_some();
            held || wish.melody_string.is_none_or(|only| only == place.string)
        });
        there && singing.next().is_none() && pitches.iter().all(|pitch| *pitch <= melody)
    });
    let bass_beneath = wish.bass == BassChoice::Free || wish.melody.is_none_or(|melody| *lowest < melody);
    let sounding: ToneSet = pitches.iter().map(|pitch| pitch.class()).collect();
    melody_on_top
        && bass_beneath
        && wish.bass.admits(*lowest)
        && sounding.contains_all(wish.required)
        && wish.notes.contains(&places.len())
}

/// Every way to put digits on the stopped strings that the judge accepts.
pub(super) fn grips(case: &Case, voicings: &[Frets]) -> BTreeSet<Grip> {
    let fingered = voicings.iter().flat_map(|frets| {
        let mut all = vec![case.wish.held];
        for (string, fret) in frets.iter().filter(|(string, _)| case.wish.held.hold(*string).is_none()) {
            let holds: Vec<Hold> = if fret.is_open() {
                vec![Hold::OPEN]
            } else {
                DIGITS.map(|digit| Hold::stopped(*fret, digit)).to_vec()
            };
            all = all
                .iter()
                .flat_map(|grip| holds.iter().map(|hold| grip.with(&Grip::from_holds([(*string, *hold)]))))
                .collect();
        }
        all
    });
    fingered.filter(|grip| check::grip(&case.instrument, &case.hand, grip).is_empty()).collect()
}
