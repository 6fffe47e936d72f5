//! The `handspan` binary.

fn main() {}
