//! The easiest route is the easiest of all: compared with trying every route, on more than ten thousand small cases, for
//! both aims, in arranged and in written music.
//!
//! The rules of a route are stated here a second time, as plainly as they can be; the search shares nothing with them
//! but what grips, moves and cuts cost and which grips there are.

mod arranger;
mod cases;
mod cheapest;
mod dice;
mod different;
mod different_passages;
mod different_written;
mod early;
mod edits;
mod exhaustive;
mod line_rules;
mod lined;
mod locks;
mod one_lock_more;
mod passages;
mod patience;
mod rules;
mod side_by_side;
mod stopped;
mod written;
