//! The tune: what is given before anything is arranged.

pub mod bar;
pub mod line;
pub mod mend;
pub mod note;
pub mod playing_order;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod tune;
pub mod written_out;

pub use bar::{Bar, BarBeat, Ending, Jump};
pub use line::{Line, LineNote};
pub use mend::{Mend, MendFault};
pub use note::{ChordAt, MelodyNote, TempoAt};
pub use playing_order::playing_order;
pub use tune::{Tune, TuneFault, TuneParts};
pub use written_out::{GivenNote, Harmonic, Mark, PrintedMarks, Tap, WrittenOut};
