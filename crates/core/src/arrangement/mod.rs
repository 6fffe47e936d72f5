//! The work, what comes of it, its changes and its undo.

mod arrange;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod arrangement;
mod browse;
mod ease;
pub mod edit;
mod excerpt;
mod fingered;
mod give_ways;
pub mod history;
mod impossible;
mod lies;
mod line_give_ways;
mod measures;
mod notes;
mod passage;
pub mod score;
mod seams;
mod sounds;

pub use crate::route::MOST_OVERLAP;
pub use arrange::{Arranger, arrange};
pub use arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
pub use browse::choices_at;
pub use ease::Ease;
pub use edit::Edit;
pub use history::History;
pub use impossible::{Impossible, transpositions};
pub use lies::{
    BEST_LIES, LieFound, LieRow, LieScope, LieTable, Octaves, compare_alike, compare_lies, tunings,
};
pub use passage::{arrange_passage, different_routes};
pub use score::{Score, ScoreNote, ScoreTap, TapBy};
