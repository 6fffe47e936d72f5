//! What the neck shows around the grip: where fingers come from or go, other places of the chord's tones, and what
//! stands in the marks.

use handspan_core::grip::Grip;
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Place};
use handspan_core::pitch::{Pitch, PitchClass};
use handspan_core::route::Early;
use handspan_core::spelling::Spelling;

use super::model::{Tone, Waiting, Way, spot};
use crate::names;
use crate::session::{NeckLabels, Session};

/// What stands in the mark of a place.
pub(super) fn label(session: &Session, place: Place, finger: Option<Finger>) -> String {
    let instrument = &session.work().plan.instrument;
    let Some(class) = instrument.sounding(place).map(Pitch::class) else {
        return String::new();
    };
    match session.neck_view().labels {
        NeckLabels::Fingers if place.fret.is_open() => "0".to_owned(),
        NeckLabels::Fingers => finger.map_or_else(String::new, |finger| finger.letter().to_string()),
        NeckLabels::Notes => note_name(session, class),
        NeckLabels::Degrees => session.chord_here().map_or_else(
            || note_name(session, class),
            |chord| chord.degree_name(class).replace(['(', ')'], ""),
        ),
    }
}

fn note_name(session: &Session, class: PitchClass) -> String {
    let Some(arrangement) = session.arrangement() else {
        return String::new();
    };
    let key = names::key_at(&arrangement.score, session.playhead());
    let by_key = || Spelling::of_class_in(class, i32::from(key.fifths()));
    format!("{:#}", session.chord_here().map_or_else(by_key, |chord| chord.spell(class, key)))
}

/// Fingers that move between the grip shown and its neighbour; those that stay are seen in the grip itself.
pub(super) fn ways(session: &Session, grip: &Grip) -> Vec<Way> {
    let Some(route) = session.route_shown() else {
        return Vec::new();
    };
    let here = route.moment_index(session.playhead());
    let other = if session.neck_view().ahead { Some(here + 1) } else { here.checked_sub(1) };
    let Some(other) = other.and_then(|index| route.moments.get(index)) else {
        return Vec::new();
    };
    let instrument = &route.score.instrument;
    let now: Vec<_> = grip.stopped().collect();
    let moves = |(place, finger): (Place, Finger)| {
        let here = now.iter().find(|(_, f)| *f == finger).map(|(p, _)| *p);
        (!now.contains(&(place, finger)))
            .then(|| Way { spot: spot(place, instrument), here: here.map(|p| spot(p, instrument)) })
    };
    other.grip.stopped().filter_map(moves).collect()
}

/// Fingers that may be down already, though they aren't needed yet.
pub(super) fn waiting(session: &Session) -> Vec<Waiting> {
    let instrument = &session.work().plan.instrument;
    let waiting = |early: &Early| {
        let places = early.strings.iter().map(|string| Place { string, fret: early.fret });
        Some(Waiting {
            spots: places.map(|place| spot(place, instrument)).collect(),
            finger: early.finger.letter(),
            label: names::early(session.arrangement()?, session.moment_index(), early, "here"),
        })
    };
    session.early_here().filter_map(waiting).collect()
}

/// Every place of a chord tone that is not in the grip.
pub(super) fn tones(session: &Session, grip: &Grip) -> Vec<Tone> {
    let Some(chord) = session.chord_here() else {
        return Vec::new();
    };
    let (tones, root) = (chord.tones(), chord.root.class());
    let instrument = &session.work().plan.instrument;
    let frets = || (0..=instrument.last_fret().number()).map(Fret::new);
    let places = instrument.strings().flat_map(|string| frets().map(move |fret| Place { string, fret }));
    let tone = |place: Place| {
        let class = instrument.sounding(place)?.class();
        let held = grip.hold(place.string).is_some_and(|hold| hold.fret() == place.fret);
        (tones.contains(class) && !held).then(|| Tone {
            spot: spot(place, instrument),
            label: match session.neck_view().labels {
                NeckLabels::Fingers => String::new(),
                _ => label(session, place, None),
            },
            root: class == root,
        })
    };
    places.filter_map(tone).collect()
}
