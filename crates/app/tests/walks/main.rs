//! Walks through the window, one file a walk, and what has to hold in every place.

mod from_nothing;
mod keys;
mod mend;
mod names;
mod recover;
mod sheet;
mod support;
