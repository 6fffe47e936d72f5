//! Where a finger holds several strings at once, and how long it stays.

use std::ops::RangeInclusive;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::hand::Finger;
use handspan_core::neck::Fret;
use handspan_core::time::Ticks;

/// From so many strings on a barre counts as full.
const FULL: usize = 5;

/// A finger across several strings.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Barre {
    /// When a second string is held.
    pub from: Ticks,
    /// When the finger leaves the fret.
    pub to: Ticks,
    /// Where it lies.
    pub fret: Fret,
    /// The indices of the strings it lies across.
    pub strings: RangeInclusive<usize>,
}

impl Barre {
    /// Whether the finger lies across nearly all strings; otherwise it is what players call a half barre.
    pub(crate) fn is_full(&self) -> bool {
        self.strings.end() + 1 - self.strings.start() >= FULL
    }
}

/// A finger on one fret, as long as one of its notes follows on another.
struct Stay {
    fret: Fret,
    strings: RangeInclusive<usize>,
    end: Ticks,
    barred_from: Option<Ticks>,
}

/// All barres in order of time.
pub(crate) fn barres(score: &Score) -> Vec<Barre> {
    let mut found: Vec<Barre> =
        Finger::FOUR.into_iter().flat_map(|finger| of_finger(score, finger)).collect();
    found.sort_by_key(|barre| (barre.from, barre.to, barre.fret));
    found
}

fn of_finger(score: &Score, finger: Finger) -> Vec<Barre> {
    let mut found = Vec::new();
    let mut stay: Option<Stay> = None;
    for note in score.notes.iter().filter(|note| note.finger == Some(finger)) {
        let stays = stay.as_ref().is_some_and(|s| s.fret == note.place.fret && note.at <= s.end);
        if !stays {
            found.extend(stay.take().and_then(Stay::barre));
        }
        stay = Some(match stay {
            Some(stay) => stay.joined_by(note),
            None => Stay::of(note),
        });
    }
    found.extend(stay.and_then(Stay::barre));
    found
}

impl Stay {
    fn of(note: &ScoreNote) -> Self {
        let string = note.place.string.index();
        Self { fret: note.place.fret, strings: string..=string, end: note.end(), barred_from: None }
    }

    fn joined_by(self, note: &ScoreNote) -> Self {
        let string = note.place.string.index();
        let alone = self.barred_from.is_none();
        let second = note.at < self.end && self.strings != (string..=string);
        // Until a second string is held together with the first, the finger only walks from string to string.
        let strings = if alone && !second {
            string..=string
        } else {
            string.min(*self.strings.start())..=string.max(*self.strings.end())
        };
        Self {
            strings,
            end: self.end.max(note.end()),
            barred_from: self.barred_from.or(second.then_some(note.at)),
            ..self
        }
    }

    fn barre(self) -> Option<Barre> {
        Some(Barre { from: self.barred_from?, to: self.end, fret: self.fret, strings: self.strings })
    }
}
