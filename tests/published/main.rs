//! Values from outside: one module a table, each naming its source beside the values.

#![expect(clippy::unwrap_used, reason = "a test says what is wrong by failing")]

mod chord_kinds;
mod chord_library;
mod counting_test;
mod drop_voicings;
mod frequencies;
mod fret_positions;
mod neck_counts;
mod open_strings_in_keys;
mod places_of_e4;
mod places_of_g4;
mod spans;
mod tunings;

use handspan_core::neck::{Instrument, Tuning};

/// A guitar in standard tuning with so many frets, 650 mm from nut to bridge.
fn guitar(frets: u8) -> Instrument {
    Instrument::try_new(Tuning::standard(), frets, Instrument::CLASSICAL_SCALE, 0).unwrap()
}
