//! Where a finger holds several strings at once, and how long it stays.

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, StringIndex};
use handspan_core::time::Ticks;

/// A finger across several strings.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) struct Barre {
    /// When a second string is held.
    pub from: Ticks,
    /// When the finger leaves the fret.
    pub to: Ticks,
    /// Where it lies.
    pub fret: Fret,
}

/// A finger on one fret, as long as one of its notes follows on another.
struct Stay {
    fret: Fret,
    last: StringIndex,
    end: Ticks,
    barred_from: Option<Ticks>,
}

/// All barres in order of time.
pub(crate) fn barres(score: &Score) -> Vec<Barre> {
    let mut found: Vec<Barre> =
        Finger::FOUR.into_iter().flat_map(|finger| of_finger(score, finger)).collect();
    found.sort_unstable();
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
            None => {
                Stay { fret: note.place.fret, last: note.place.string, end: note.end(), barred_from: None }
            }
        });
    }
    found.extend(stay.and_then(Stay::barre));
    found
}

impl Stay {
    fn joined_by(self, note: &ScoreNote) -> Self {
        let second = (note.at < self.end && note.place.string != self.last).then_some(note.at);
        Self {
            last: note.place.string,
            end: self.end.max(note.end()),
            barred_from: self.barred_from.or(second),
            ..self
        }
    }

    fn barre(self) -> Option<Barre> {
        Some(Barre { from: self.barred_from?, to: self.end, fret: self.fret })
    }
}
