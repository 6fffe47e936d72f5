//! Where frets lie on a scale of 650 mm, in millimetres from the nut.
//!
//! Source: the rule of equal temperament, L · (1 − 2^(−n/12)), as every handbook of guitar making has it; values
//! computed with it for this project, apart from the program.

use handspan_core::neck::Fret;

use super::guitar;

const FROM_NUT: [(u8, f64); 6] = [(0, 0.0), (1, 36.48), (5, 163.05), (7, 216.18), (12, 325.00), (19, 433.09)];

/// Four frets are far apart near the nut and close together higher up: first and last fret, distance.
const BETWEEN: [(u8, u8, f64); 2] = [(1, 5, 126.6), (5, 9, 100.5)];

#[test]
fn frets_lie_where_equal_temperament_puts_them() {
    let guitar = guitar(19);
    let wire = |fret: u8| guitar.wire(Fret::new(fret)).millimetres();
    for (fret, millimetres) in FROM_NUT {
        assert!((wire(fret) - millimetres).abs() < 0.005, "fret {fret} lies at {}", wire(fret));
    }
    for (low, high, millimetres) in BETWEEN {
        let apart = wire(high) - wire(low);
        assert!((apart - millimetres).abs() < 0.05, "frets {low} and {high} are {apart} apart");
    }
}
