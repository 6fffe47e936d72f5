//! Items drawn: every file draws one thing into a group and knows how much room it needs.
//!
//! A system's own coordinates begin at the left margin on the line of the highest string.

pub(crate) mod chord_box;
pub(crate) mod chord_name;
pub(crate) mod chords;
pub(crate) mod column;
pub(crate) mod held;
pub(crate) mod left_hand;
pub(crate) mod notation;
pub(crate) mod pen;
pub(crate) mod remarks;
pub(crate) mod rhythm;
pub(crate) mod signs;
pub(crate) mod skyline;
pub(crate) mod staff;
pub(crate) mod system;
pub(crate) mod taps;
pub(crate) mod ties;
