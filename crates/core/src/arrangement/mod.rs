//! The work, what comes of it, its changes and its undo.

mod arrange;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod arrangement;
mod browse;
pub mod edit;
mod fingered;
mod give_ways;
pub mod history;
mod impossible;
mod notes;
pub mod score;
mod seams;
mod sounds;

pub use arrange::{arrange, arrange_passage};
pub use arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
pub use browse::wish_at;
pub use edit::Edit;
pub use history::History;
pub use impossible::{Impossible, transpositions};
pub use score::{Score, ScoreNote};
