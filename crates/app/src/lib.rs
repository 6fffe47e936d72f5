//! The window of Handspan.
//!
//! [`session`] holds what is going on and knows nothing of drawing; [`panels`] draw it and queue [`command`]s;
//! [`window`] lays them out and runs the commands after drawing. Long work runs as a [`job`].

pub mod command;
pub mod demo;
pub mod file;
pub mod folders;
pub mod job;
pub mod names;
pub mod panels;
pub mod preferences;
pub mod session;
pub mod theme;
pub mod window;
