//! Changes of the tune: what becomes of the locks, and what a change is called.

use std::collections::BTreeSet;

use super::bars;
use crate::arrangement::Work;
use crate::demand::demands;
use crate::pitch::Pitch;
use crate::plan::{Lock, Locks, Plan};
use crate::time::Ticks;
use crate::tune::{MelodyNote, Mend, Tune};

/// Mends the tune and lets the locks follow; a change that can't be made leaves the work as it is.
pub(super) fn apply(mend: &Mend, work: &mut Work) {
    let Ok(tune) = mend.apply(&work.tune) else {
        return;
    };
    work.plan.locks = followed(mend, &work.tune, &tune, &work.plan);
    work.tune = tune.into();
}

/// The locks at their moments in the mended tune. What has no moment any more, or another melody note than it was
/// locked for, is released.
fn followed(mend: &Mend, before: &Tune, after: &Tune, plan: &Plan) -> Locks {
    let mut kept = Locks::default();
    if plan.locks.is_empty() {
        return kept;
    }
    let (moments_before, moments_after) = (moments(before, plan), moments(after, plan));
    for (at, lock) in plan.locks.iter() {
        let Some(now) = mend.carried(before, at).filter(|now| *now < after.end()) else {
            continue;
        };
        // A moment that only a lock had made is no less there than before.
        if !moments_after.contains(&now) && moments_before.contains(&at) {
            continue;
        }
        let (was, is) = (begins(before, at), begins(after, now));
        kept.set(now, if was == is { lock } else { for_another_note(lock, is, plan) });
    }
    kept
}

/// The moments that a tune has with nothing locked.
fn moments(tune: &Tune, plan: &Plan) -> BTreeSet<Ticks> {
    let unlocked = Plan { locks: Locks::default(), ..plan.clone() };
    demands(tune, &unlocked).into_iter().map(|demand| demand.at).collect()
}

/// The melody note that begins at a time.
fn begins(tune: &Tune, at: Ticks) -> Option<Pitch> {
    tune.melody_at(at).filter(|note| note.at == at).map(MelodyNote::pitch)
}

/// What is left of a lock when the melody note of its moment is another: never the grip, the string where the new note
/// lies on it too.
fn for_another_note(lock: Lock, note: Option<Pitch>, plan: &Plan) -> Lock {
    let sounding = note.and_then(|pitch| pitch.checked_add(plan.transpose));
    let lies_on = |string| {
        sounding.is_some_and(|pitch| plan.instrument.places(pitch).any(|place| place.string == string))
    };
    Lock { melody: lock.melody.filter(|string| lies_on(*string)), grip: None, ..lock }
}

/// What a player calls the change; the tune is the mended one.
pub(super) fn label(mend: &Mend, tune: &Tune) -> String {
    let place = |at: Ticks| tune.bar_beat(at);
    let number = |bar: usize| tune.bars().get(bar).map_or_else(String::new, |bar| bar.number.clone());
    match mend {
        Mend::Title(title) => format!("Title “{title}”"),
        Mend::Composer(composer) => format!("Composer “{composer}”"),
        Mend::Chord { at, symbol: Some(symbol) } => format!("Chord {symbol:#} in {}", place(*at)),
        Mend::Chord { at, symbol: None } => format!("No chord symbol in {}", place(*at)),
        Mend::Note { at, written, .. } => format!("Note {written:#} in {}", place(*at)),
        Mend::Pitch { at, written } => format!("Pitch {written:#} in {}", place(*at)),
        Mend::Length { at, .. } => format!("Length of the note in {}", place(*at)),
        Mend::Silence(passage) => format!("Rest in {}", place(passage.start)),
        Mend::Line { line, at, written, .. } => {
            format!("Note {written:#} of the {} in {}", line.name(), place(*at))
        }
        Mend::LineSilence { line, passage } => {
            format!("Rest of the {} in {}", line.name(), place(passage.start))
        }
        Mend::MarkAsLine { line, passage } => format!("Mark {} as {}", bars(tune, passage), line.name()),
        Mend::Section { bar, name: Some(name) } => format!("Section {name} from bar {}", number(*bar)),
        Mend::Section { bar, name: None } => format!("No section at bar {}", number(*bar)),
        Mend::Key { bar, key } => format!("Key {key:#} from bar {}", number(*bar)),
        Mend::Metre { bar, metre } => format!("Metre {metre} from bar {}", number(*bar)),
        Mend::Tempo { bar, tempo: Some(tempo) } => {
            format!("Tempo {} from bar {}", tempo.quarters_a_minute(), number(*bar))
        }
        Mend::Tempo { bar, tempo: None } => format!("No tempo at bar {}", number(*bar)),
        Mend::AddBars { count: 1, after } => format!("Add bar {}", number(after + 1)),
        Mend::AddBars { count, after } => {
            format!("Add bars {} to {}", number(after + 1), number(after + count))
        }
        Mend::RemoveBars(gone) if gone.len() == 1 => "Take a bar away".to_owned(),
        Mend::RemoveBars(gone) => format!("Take {} bars away", gone.len()),
    }
}

/// Whether two changes in one gesture are one step: the same kind of change at the same place.
pub(super) fn joins(one: &Mend, other: &Mend) -> bool {
    match (one, other) {
        (Mend::Pitch { at: a, .. }, Mend::Pitch { at: b, .. })
        | (Mend::Length { at: a, .. }, Mend::Length { at: b, .. }) => a == b,
        (Mend::Tempo { bar: a, .. }, Mend::Tempo { bar: b, .. }) => a == b,
        (Mend::Title(_), Mend::Title(_)) | (Mend::Composer(_), Mend::Composer(_)) => true,
        _ => false,
    }
}
