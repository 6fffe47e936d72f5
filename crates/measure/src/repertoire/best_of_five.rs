//! Whether the print is among the best really different routes of every four bars.
//!
//! Every four bars of a piece are a passage that a player selects: the hand comes from the easiest route of the whole
//! piece and goes on in it. Of the routes found for the passage the one counts that has most of its printed digits.

use std::ops::Range;

use handspan_core::demand::{WrittenDemand, WrittenNote};
use handspan_core::grip::Reach;
use handspan_core::route::{Step, different_written};
use handspan_core::watch::Unwatched;

use super::agreement::plays;
use super::figures::Figures;
use super::piece::{Onset, Piece};
use super::routes::Routes;

/// How many bars a passage has.
const BARS: i64 = 4;
/// How many routes are looked at.
const ROUTES: usize = 5;

/// Counts the printed digits, 0 to 4, and those that the best fitting routes have.
pub(super) fn count(reach: &Reach, piece: &Piece, routes: &Routes, figures: &mut Figures) {
    figures.left_hand_printed = piece.onsets.iter().map(|onset| digits(onset).count()).sum();
    let first_bar = piece.onsets.first().map_or(0, |onset| onset.bar);
    for range in routes.ranges() {
        let steps: Vec<Step> = routes.steps[range.clone()].iter().flatten().copied().collect();
        let route = Route {
            reach,
            onsets: &piece.onsets[range.clone()],
            demands: &routes.demands[range],
            steps: &steps,
        };
        let four_bars = |a: &Onset, b: &Onset| (a.bar - first_bar) / BARS == (b.bar - first_bar) / BARS;
        let mut first = 0;
        for onsets in route.onsets.chunk_by(four_bars) {
            figures.left_hand_agree_best_of_five += route.best_of_five(first..first + onsets.len());
            first += onsets.len();
        }
    }
}

/// The notes of an onset that have a printed digit, without their strings.
fn digits(onset: &Onset) -> impl Iterator<Item = WrittenNote> {
    let marked = onset.struck.iter().filter(|note| note.mark.is_some());
    marked.map(|note| WrittenNote { string: None, ..*note })
}

/// A route of a piece, from its beginning or a cut to the next.
struct Route<'a> {
    reach: &'a Reach,
    onsets: &'a [Onset],
    demands: &'a [WrittenDemand],
    steps: &'a [Step],
}

impl Route<'_> {
    /// How many printed digits of a passage the best fitting one of five really different routes has.
    fn best_of_five(&self, passage: Range<usize>) -> usize {
        let onsets = &self.onsets[passage.clone()];
        if onsets.iter().all(|onset| digits(onset).next().is_none()) {
            return 0;
        }
        let agreeing = |steps: &[Step]| -> usize {
            let both = onsets.iter().zip(steps);
            both.map(|(onset, step)| digits(onset).filter(|note| plays(self.reach, step, *note)).count())
                .sum()
        };
        let routes =
            different_written(self.reach, self.demands, self.steps, passage.clone(), ROUTES, &Unwatched);
        routes.iter().map(|steps| agreeing(&steps[passage.clone()])).max().unwrap_or_default()
    }
}
