//! What a hand can hold: voicings, the grips that hold them, what they cost, and what it costs to get there.

pub mod caution;
mod departures;
pub mod effort;
pub mod filter;
pub mod fingering;
#[expect(clippy::module_inception, reason = "the room is named after what it holds")]
mod grip;
mod hand_at;
mod hold;
mod holding_on;
pub mod moves;
pub mod own;
mod pace;
pub mod ranking;
pub mod reach;
pub mod sonority;
pub mod strain;
pub mod voicing;
pub mod voicings;
pub mod weights;

pub use caution::{Caution, cautions};
pub use departures::{ByGroup, Departures, Fares, Towards};
pub use effort::{Effort, GripEffort, GripTerm};
pub use filter::Filter;
pub use grip::{Digits, Grip, StringSet};
pub(crate) use hold::HOLDS;
pub use hold::Hold;
pub use holding_on::HoldingOn;
pub use moves::{HandAt, MoveEffort, MoveTerm, Pace};
pub use own::{Nearest, nearest, ways_to_hold};
pub use ranking::{Listed, Listing, Order, Previous, RankedGrip, grips, listed, ranked, weighed};
pub use reach::Reach;
pub use sonority::{Sonority, SoundTerm, Taste, sonority};
pub use voicing::{BassChoice, Voicing};
pub use voicings::{VoicingWish, voicings};
pub use weights::Weights;
