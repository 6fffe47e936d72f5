//! The easiest route is the easiest of all: compared with trying every route, on more than a thousand small cases.
//!
//! The rules of a route are stated here a second time, as plainly as they can be; the search shares nothing with them
//! but what grips, moves and cuts cost and which grips there are.

mod cases;
mod cheapest;
mod dice;
mod different;
mod different_passages;
mod exhaustive;
mod locks;
mod one_lock_more;
mod passages;
mod patience;
mod rules;
mod stopped;
