//! The work, what comes of it, its changes and its undo.

pub mod arrange;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod arrangement;
pub mod edit;
pub mod history;
pub mod score;
mod seams;

pub use arrange::{Impossible, arrange, arrange_passage, transpositions, wish_at};
pub use arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
pub use edit::Edit;
pub use history::History;
pub use score::{Score, ScoreNote};
