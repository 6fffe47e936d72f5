//! A passage of an arrangement, to be measured by itself.

use std::ops::Range;

use super::arrangement::Arrangement;
use super::score::Score;
use crate::route::Early;
use crate::time::Ticks;

impl Arrangement {
    /// What happens in a passage alone: its moments with what it costs to get to them, its notes, what gave way in it,
    /// and the effort of all that. The tune stays whole, so that bars keep their numbers.
    #[must_use]
    pub fn excerpt(&self, passage: &Range<Ticks>) -> Self {
        let first = self.moments.partition_point(|moment| moment.at < passage.start);
        let lands = |early: &&Early| passage.contains(&self.moments[early.lands].at) && early.lands > first;
        let counted = |early: &Early| Early {
            since: early.since.saturating_sub(first),
            lands: early.lands - first,
            ..*early
        };
        let moments: Vec<_> = self.moments.iter().filter(|m| passage.contains(&m.at)).copied().collect();
        Self {
            effort: moments.iter().map(|m| m.effort.total() + m.moved.total()).sum(),
            score: Score {
                notes: self.score.notes.iter().filter(|n| passage.contains(&n.at)).copied().collect(),
                taps: self.score.taps.iter().filter(|tap| passage.contains(&tap.at)).copied().collect(),
                ..self.score.clone()
            },
            give_ways: self.give_ways.iter().filter(|g| passage.contains(&g.at)).cloned().collect(),
            cut_short: self.cut_short.iter().filter(|(at, _)| passage.contains(at)).copied().collect(),
            early: self.early.iter().filter(lands).map(counted).collect(),
            moments,
            proven: self.proven,
        }
    }
}
