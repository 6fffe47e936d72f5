//! How an arrangement lies under the hand: what tells one key, tuning and capo from another.

use super::arrangement::Arrangement;
use crate::demand::Part;
use crate::grip::Effort;
use crate::neck::Fret;
use crate::time::Ticks;

/// What a way to lie gains and costs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ease {
    /// Effort of all grips and moves together.
    pub effort: Effort,
    /// When the hardest move comes, and what it costs.
    pub hardest: Option<(Ticks, Effort)>,
    /// How many bass notes are struck.
    pub basses: usize,
    /// How many of them are open strings.
    pub open_basses: usize,
    /// How many notes between melody and bass are struck.
    pub inner_notes: usize,
    /// How much of what was asked for is not met.
    pub give_ways: usize,
    /// The highest fret of the melody, counted from the capo.
    pub highest_fret: Fret,
    /// How many semitones the melody's lowest note lies above the lowest open string.
    pub room_below: i16,
    /// How many semitones the last fret of the highest string lies above the melody's highest note.
    pub room_above: i16,
}

impl Ease {
    /// Counts what an arrangement has.
    pub fn of(arrangement: &Arrangement) -> Self {
        let Arrangement { score, moments, .. } = arrangement;
        let struck = |part| score.notes.iter().filter(move |note| note.part == part && !note.tied_in);
        let melody = || score.notes.iter().filter(|note| note.part == Part::Melody);
        let (lowest, highest) = score.instrument.range();
        let hardest = arrangement.hardest_moves(1).first().copied();
        Self {
            effort: arrangement.effort,
            hardest: hardest.map(|(index, moved)| (moments[index].at, moved.total())),
            basses: struck(Part::Bass).count(),
            open_basses: struck(Part::Bass).filter(|note| note.place.fret.is_open()).count(),
            inner_notes: struck(Part::Inner).count(),
            give_ways: arrangement.give_ways.len(),
            highest_fret: melody().map(|note| note.place.fret).max().unwrap_or(Fret::OPEN),
            room_below: melody().map(|note| (note.pitch() - lowest).semitones()).min().unwrap_or(0),
            room_above: melody().map(|note| (highest - note.pitch()).semitones()).min().unwrap_or(0),
        }
    }
}
