//! Walks through the window, one file a walk, and what has to hold in every place.

mod keys;
mod names;
mod recover;
mod sheet;
mod support;
