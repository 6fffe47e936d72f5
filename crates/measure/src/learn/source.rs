//! Writes weights as they stand in the code.

use std::fmt::Write as _;

use handspan_core::grip::Weights;
use handspan_core::grip::weights::Table;

/// A line a table, for `crates/core/src/grip/weights/own.rs`; `cargo fmt` breaks the long ones.
pub(super) fn source(weights: &Weights) -> String {
    let mut text = String::from("pub(super) const OWN: [(Table, &[i32]); Table::ALL.len()] = [\n");
    for table in Table::ALL {
        // Writing to a text cannot fail.
        writeln!(text, "    (Table::{table:?}, &{:?}),", weights.table(table)).unwrap_or_default();
    }
    text + "];"
}
