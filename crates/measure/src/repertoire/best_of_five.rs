//! Whether the print is among the best really different routes of every four bars.
//!
//! Every four bars of a piece are a passage that a player selects: the hand comes from the easiest route of the whole
//! piece and goes on in it. Of the routes found for the passage the one counts that has most of its printed digits.

use handspan_core::demand::WrittenNote;
use handspan_core::grip::Reach;
use handspan_core::route::{Step, different_written};
use handspan_core::watch::Unwatched;

use super::agreement::plays;
use super::figures::Figures;
use super::piece::{Onset, Piece};
use super::route::PieceRoute;

/// How many bars a passage has.
const BARS: i64 = 4;
/// How many routes are looked at.
const ROUTES: usize = 5;

/// Counts the printed digits, 0 to 4, and those that the best fitting routes have.
pub(super) fn count(reach: &Reach, piece: &Piece, route: &PieceRoute, figures: &mut Figures) {
    figures.left_hand_printed = piece.onsets.iter().map(|onset| digits(onset).count()).sum();
    let first_bar = piece.onsets.first().map_or(0, |onset| onset.bar);
    let four_bars = |a: &Onset, b: &Onset| (a.bar - first_bar) / BARS == (b.bar - first_bar) / BARS;
    let mut first = 0;
    for onsets in piece.onsets.chunk_by(four_bars) {
        figures.left_hand_agree_best_of_five += best_of_five(reach, onsets, route, first);
        first += onsets.len();
    }
}

/// The notes of an onset that have a printed digit, without their strings.
fn digits(onset: &Onset) -> impl Iterator<Item = WrittenNote> {
    let marked = onset.struck.iter().filter(|note| note.mark.is_some());
    marked.map(|note| WrittenNote { string: None, ..*note })
}

/// How many printed digits of a passage, which begins with onset `first`, the best fitting one of five really different
/// routes has.
fn best_of_five(reach: &Reach, onsets: &[Onset], route: &PieceRoute, first: usize) -> usize {
    if onsets.iter().all(|onset| digits(onset).next().is_none()) {
        return 0;
    }
    let passage = first..first + onsets.len();
    let agreeing = |steps: &[Step]| -> usize {
        let both = onsets.iter().zip(steps);
        both.map(|(onset, step)| digits(onset).filter(|note| plays(reach, step, *note)).count()).sum()
    };
    let routes = different_written(reach, &route.demands, &route.steps, passage.clone(), ROUTES, &Unwatched);
    routes.iter().map(|steps| agreeing(&steps[passage.clone()])).max().unwrap_or_default()
}
