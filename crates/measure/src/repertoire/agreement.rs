//! How far what was found agrees with what is printed.

use handspan_core::demand::{Mark, WrittenNote};
use handspan_core::grip::Reach;
use handspan_core::route::Step;

use super::figures::Figures;
use super::piece::Piece;
use super::route::{PieceRoute, has_grip, held};

/// Counts the printed marks of a piece and those that the route has as well.
pub(super) fn printed(reach: &Reach, piece: &Piece, route: &PieceRoute) -> Figures {
    let mut figures = Figures::default();
    for (index, onset) in piece.onsets.iter().enumerate() {
        for note in &onset.struck {
            let finger = WrittenNote { string: None, ..*note };
            let agrees = usize::from(is_played(reach, route, index, finger));
            match note.mark {
                Some(Mark::Stopped(_)) => {
                    figures.fingers_printed += 1;
                    figures.fingers_agree += agrees;
                }
                Some(Mark::Open) => {
                    figures.open_printed += 1;
                    figures.open_agree += agrees;
                }
                None => {}
            }
            if note.string.is_some() {
                let string = WrittenNote { mark: None, ..*note };
                figures.strings_printed += 1;
                figures.strings_agree += usize::from(is_played(reach, route, index, string));
            }
        }
    }
    figures
}

/// Whether the route strikes a note as it is marked.
fn is_played(reach: &Reach, route: &PieceRoute, onset: usize, note: WrittenNote) -> bool {
    plays(reach, &route.steps[onset], note)
}

/// Whether a step strikes a note as it is marked.
pub(super) fn plays(reach: &Reach, step: &Step, note: WrittenNote) -> bool {
    let held = held(reach, &step.grip, step.struck, note.pitch);
    held.is_some_and(|(string, _)| note.is_kept_by(&step.grip, string))
}

/// A piece with every second printed finger as a lock.
pub(super) struct HalfLocked {
    /// What is struck at every onset, with the locks.
    pub(super) notes: Vec<Vec<WrittenNote>>,
    /// The printed fingers that are not locked, each with its onset.
    pub(super) free: Vec<(usize, WrittenNote)>,
}

impl HalfLocked {
    /// Locks the first, third, fifth … printed finger of a piece, lower notes of an onset first.
    ///
    /// Some digits contradict their notes: where no hand can hold an onset as locked, its locks are left out.
    pub(super) fn of(reach: &Reach, piece: &Piece) -> Self {
        let mut half = Self { notes: Vec::with_capacity(piece.onsets.len()), free: Vec::new() };
        let mut locks_next = true;
        for (index, onset) in piece.onsets.iter().enumerate() {
            let plain = onset.plain();
            let mut locked = plain.clone();
            let fingers = onset.struck.iter().zip(&mut locked);
            for (note, lock) in fingers.filter(|(note, _)| matches!(note.mark, Some(Mark::Stopped(_)))) {
                if locks_next {
                    lock.mark = note.mark;
                } else {
                    half.free.push((index, WrittenNote { string: None, ..*note }));
                }
                locks_next = !locks_next;
            }
            let sounding_on = onset.sounding_on.iter().map(|pitch| WrittenNote::plain(*pitch));
            let sounding: Vec<WrittenNote> = locked.iter().copied().chain(sounding_on).collect();
            let can_be_held = locked == plain || has_grip(reach, &sounding);
            half.notes.push(if can_be_held { locked } else { plain });
        }
        half
    }

    /// How many of the fingers that are not locked the route has as printed.
    pub(super) fn agreeing(&self, reach: &Reach, route: &PieceRoute) -> usize {
        self.free.iter().filter(|(onset, note)| is_played(reach, route, *onset, *note)).count()
    }
}
