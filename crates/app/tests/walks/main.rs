//! Walks through the window, one file a walk, and what has to hold in every place.

mod dialogs;
mod early;
mod from_nothing;
mod keys;
mod lies;
mod lines;
mod mend;
mod names;
mod own_grip;
mod parts;
mod recover;
mod route;
mod sheet;
mod steps;
mod support;
mod texts;
mod voicings;
