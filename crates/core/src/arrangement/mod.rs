//! The work, what comes of it, its changes and its undo.

#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod arrangement;
mod arrange;
pub mod edit;
pub mod history;
pub mod score;

pub use arrangement::{Arrangement, GiveWay, GiveWayReason, Moment, Work};
pub use arrange::{Impossible, arrange, arrange_passage, wish_at};
pub use edit::Edit;
pub use history::History;
pub use score::{Score, ScoreNote};
