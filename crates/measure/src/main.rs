//! Measures the program.

fn main() {}
