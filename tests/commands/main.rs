//! The headless commands from arguments to exit code, as a player or another program meets them.

#![expect(clippy::unwrap_used, reason = "a test fails loudly")]

mod arranging;
mod broken_files;
mod checking;
mod demo;
mod desk;
mod fingering;
mod harmonics;
mod keys;
mod paper;
mod readme;
mod score_parts;
mod taps;
mod voicings;
