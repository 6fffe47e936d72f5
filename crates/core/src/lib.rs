//! How music lies on a guitar neck.
//!
//! A [`tune::Tune`] says what is given, a [`plan::Plan`] what the arranger decided.
//! [`arrangement::arrange()`] turns both into an [`arrangement::Arrangement`]: one grip for every moment, every
//! note with its string, fret and both hands' fingers. [`check`] judges any arrangement without sharing code
//! with the search that made it.
//!
//! The crate is pure: no files, clock, threads, randomness or drawing. The same input gives the same output on
//! every machine; effort is a whole number and no float comparison decides a route.
//!
//! The rooms, from the ground up; a room uses only rooms below it:
//!
//! | floor | room | answers |
//! | --- | --- | --- |
//! | 8 | [`check`] | is it true and playable |
//! | 7 | [`arrangement`] | the work, its changes, its undo |
//! | 6 | [`route`] | the way through |
//! | 5 | [`demand`] | what has to sound when |
//! | 4 | [`plan`] | what the arranger decided |
//! | 3 | [`grip`], [`tune`] | what a hand can hold; what was given |
//! | 2 | [`harmony`], [`hand`] | chords; reach |
//! | 1 | [`neck`] | where a pitch lies |
//! | 0 | [`pitch`], [`spelling`], [`time`], [`watch`] | ground |

pub mod arrangement;
pub mod check;
pub mod demand;
pub mod grip;
pub mod hand;
pub mod harmony;
pub mod neck;
pub mod pitch;
pub mod plan;
pub mod route;
pub mod spelling;
pub mod time;
pub mod tune;
pub mod watch;
