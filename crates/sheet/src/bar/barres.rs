//! Where the index finger lies across several strings, and how long it stays.
//!
//! Another finger that holds two or three strings needs no sign of its own: its digits beside the notes say it.

use std::ops::RangeInclusive;

use handspan_core::arrangement::{Score, ScoreNote};
use handspan_core::hand::Finger;
use handspan_core::neck::{Fret, Touch};
use handspan_core::time::Ticks;

use super::ringing::Ringing;

/// From so many strings on a barre counts as full.
const FULL: usize = 5;

/// The index finger across several strings.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Barre {
    /// When a second string is held.
    pub from: Ticks,
    /// When the last note ends that it held together with another string, or the finger gives way to a string that sounds
    /// lower under it or goes to a single one beyond.
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

/// All barres in order of time.
pub(crate) fn barres(score: &Score) -> Vec<Barre> {
    let ringing = Ringing::new(score);
    let mut found = Vec::new();
    let mut stay: Option<Stay> = None;
    for note in &score.notes {
        if note.finger == Some(Finger::Index) && note.touch != Touch::Natural {
            if stay.as_ref().is_none_or(|stay| !stay.goes_on_with(note)) {
                found.extend(stay.take().and_then(Stay::barre));
            }
            let stay = stay.get_or_insert_with(|| Stay::at(note.place.fret));
            found.extend(stay.take(note, ringing));
        } else if let Some(stay) = stay.as_mut().filter(|stay| stay.lies_over(note)) {
            found.extend(stay.lifted(note.at));
        }
    }
    found.extend(stay.and_then(Stay::barre));
    found
}

/// The finger on one fret, as long as one of its notes follows on another.
struct Stay {
    fret: Fret,
    /// The strings it holds, each until its note ends.
    held: Vec<(usize, Ticks)>,
    end: Ticks,
    /// Since when it lies across which strings, and until when two or more of them sound.
    across: Option<Across>,
}

/// The finger across strings.
struct Across {
    from: Ticks,
    to: Ticks,
    strings: RangeInclusive<usize>,
}

impl Stay {
    const fn at(fret: Fret) -> Self {
        Self { fret, held: Vec::new(), end: Ticks::ZERO, across: None }
    }

    fn goes_on_with(&self, note: &ScoreNote) -> bool {
        self.fret == note.place.fret && note.at <= self.end
    }

    /// Whether a note sounds lower on a string that the finger lies across.
    fn lies_over(&self, note: &ScoreNote) -> bool {
        let inside =
            self.across.as_ref().is_some_and(|across| across.strings.contains(&note.place.string.index()));
        inside && note.pressed() < self.fret && note.at < self.end
    }

    /// Holds one more note. Gives the barre that ends where the finger can't lie across all that it has held.
    fn take(&mut self, note: &ScoreNote, ringing: Ringing<'_>) -> Option<Barre> {
        self.held.retain(|(_, end)| *end > note.at);
        self.held.push((note.place.string.index(), note.end()));
        self.end = self.end.max(note.end());
        let Some(across) = &self.across else {
            self.across = self.across_from(note.at);
            return None;
        };
        let string = note.place.string.index();
        let (start, end) = (*across.strings.start().min(&string), *across.strings.end().max(&string));
        let sounds_lower = |other: &ScoreNote| {
            (start..=end).contains(&other.place.string.index()) && other.pressed() < self.fret
        };
        let now = self.across_from(note.at);
        let gone_beyond = now.is_none() && !across.strings.contains(&string);
        if gone_beyond || ringing.at(note.at).any(sounds_lower) {
            return self.lifted(note.at);
        }
        if let Some(now) = now {
            self.across = Some(Across { from: across.from, strings: start..=end, ..now });
        }
        None
    }

    /// The finger across the strings that it holds, from a time on; none where it holds a single one.
    fn across_from(&self, from: Ticks) -> Option<Across> {
        let strings = self.span().filter(|strings| strings.start() < strings.end())?;
        let to = self.held.iter().map(|(_, end)| *end).max()?;
        Some(Across { from, to, strings })
    }

    /// From the first to the last string that it holds.
    fn span(&self) -> Option<RangeInclusive<usize>> {
        let strings = || self.held.iter().map(|(string, _)| *string);
        Some(strings().min()?..=strings().max()?)
    }

    /// Ends the barre at a time; what the finger still holds then may be another.
    fn lifted(&mut self, at: Ticks) -> Option<Barre> {
        let Across { from, to, strings } = self.across.take()?;
        self.held.retain(|(_, end)| *end > at);
        self.across = self.across_from(at);
        (from < at).then_some(Barre { from, to: to.min(at), fret: self.fret, strings })
    }

    fn barre(self) -> Option<Barre> {
        let Across { from, to, strings } = self.across?;
        Some(Barre { from, to, fret: self.fret, strings })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bar::sample::score_of;

    fn told(notes: &[&str]) -> Vec<String> {
        let quarters = |at: Ticks| at.count() / Ticks::PER_QUARTER;
        let barre = |b: &Barre| {
            let (highest, lowest) = (b.strings.start() + 1, b.strings.end() + 1);
            format!("{}: {highest}-{lowest}, {} to {}", b.fret, quarters(b.from), quarters(b.to))
        };
        barres(&score_of(notes)).iter().map(barre).collect()
    }

    #[test]
    fn a_barre_lasts_as_long_as_its_notes_follow_on_one_another() {
        assert_eq!(told(&["0 2 1 2 1", "0 4 4 2 1", "2 1 2 4 3", "3 2 1 2 1"]), ["2: 1-4, 0 to 5"]);
        // One note after another on one string is no barre.
        assert!(told(&["0 2 1 2 1", "2 2 2 2 1"]).is_empty());
    }

    #[test]
    fn an_open_string_under_it_ends_it() {
        assert_eq!(told(&["0 2 1 2 1", "0 2 4 2 1", "2 2 2 0 -", "2 2 1 2 1"]), ["2: 1-4, 0 to 2"]);
        // Also where the finger goes on to a single string at that very time.
        assert_eq!(told(&["0 2 1 3 1", "0 2 5 3 1", "2 2 6 3 1", "2 2 3 0 -"]), ["3: 1-5, 0 to 2"]);
        // Beyond its strings an open one may ring.
        assert_eq!(told(&["0 4 1 2 1", "0 4 3 2 1", "2 2 6 0 -"]), ["2: 1-3, 0 to 4"]);
        // The finger goes on over the strings that it still holds.
        assert_eq!(
            told(&["0 2 1 7 1", "0 2 6 7 1", "2 2 6 0 -", "2 2 1 7 1", "2 2 3 7 1"]),
            ["7: 1-6, 0 to 2", "7: 1-3, 2 to 4"]
        );
    }

    #[test]
    fn it_ends_with_the_last_note_that_two_strings_share() {
        // The finger goes on to a single string beyond, to one among its own.
        assert_eq!(told(&["0 2 2 5 1", "0 2 3 5 1", "2 4 4 7 3", "2 4 5 5 1"]), ["5: 2-3, 0 to 2"]);
        assert_eq!(
            told(&["0 2 3 1 1", "0 2 5 1 1", "2 2 5 1 1", "2 2 6 2 2", "4 2 4 1 1"]),
            ["1: 3-5, 0 to 2"]
        );
        // It lies on where it soon holds two again.
        assert_eq!(
            told(&["0 2 3 1 1", "0 2 5 1 1", "2 2 5 1 1", "4 2 3 1 1", "4 2 4 1 1"]),
            ["1: 3-5, 0 to 6"]
        );
        assert_eq!(
            told(&["0 2 2 5 1", "0 2 3 5 1", "2 2 5 5 1", "4 2 2 5 1", "4 2 3 5 1"]),
            ["5: 2-3, 0 to 2", "5: 2-3, 4 to 6"]
        );
    }

    #[test]
    fn other_fingers_have_no_sign_of_their_own() {
        assert!(told(&["0 2 1 5 3", "0 2 2 5 3"]).is_empty());
    }
}
