//! Reading: text → document → the bars of one part → ties joined → a tune or a score.

mod attributes;
mod document;
mod duration;
mod element;
mod harmonics;
mod harmony;
mod header;
mod line;
mod lines;
mod melody;
mod neck;
mod note;
mod part;
mod parts;
mod report;
mod score;
mod shared;
mod signs;
mod taps;
mod ties;
mod tune;
mod twins;
mod written_out;

pub use parts::{PartChoice, ScorePart, Sung, parts};
pub use score::read_score;
pub use tune::{read_tune, read_tune_with};
pub use written_out::{is_written_out, read_written_out};
