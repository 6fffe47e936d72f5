//! The program's own weights, learned from published fingerings with `handspan-measure learn` and printed by it.
//!
//! Ten points make a grip e times less likely to be printed. What the repertoire cannot teach is set by hand: the thumb,
//! the body joint and crossed voices; and strain is kept from ever being a gain (`crates/measure/src/learn/sense.rs`).

use super::table::Table;

/// Every table with its entries.
pub(super) const OWN: [(Table, &[i32]); Table::ALL.len()] = [
    (Table::Finger, &[16, 21, 28, 42]),
    (Table::Thumb, &[70]),
    (Table::Together, &[5, -3, 3, -4, -1, -2, 0, 5, 1, -3, -3, 10, -1, 7, 1, 5]),
    (
        Table::FingerString,
        &[-6, 2, -6, -3, 1, -3, 9, 5, -3, -2, -2, -2, 10, 4, -4, -6, 1, -2, -10, -3, 5, 0, 3, 10],
    ),
    (Table::FingerFret, &[2, -4, 2, -3, -4, 20, 0, 3, -5, 1, 24, 2, 9, 1, -8, 18, 8, -1, 4, 2]),
    (
        Table::Apart,
        &[
            6, -2, 1, 0, 0, 0, 0, 9, 2, 2, 0, 0, 0, 0, -7, 16, 2, 0, 0, 0, 0, 20, 11, -7, 8, 0, 0, 0, 12, 2,
            9, -11, 0, 0, 0, 26, 15, 0, 5, -3, 1, 0,
        ],
    ),
    (
        Table::Slant,
        &[
            2, 0, -1, 2, 0, 0, 4, -2, 4, 4, -5, -4, 3, 2, 1, -4, -6, -2, 6, 11, 1, 0, 0, 1, -1, -1, -4, -1,
            1, 0, -2, 15, 1, 0, -3, 1, 0, 0, 3, 2, 15, 7, -15, 3, -1, -12, 4, 9, 0, 0, 3, -3, 13, 3, 4, -9,
            -1, 2, 0, 4, 0, 0, 1, 1, 7, 7, -1, -8, 8, 6, 2, -11,
        ],
    ),
    (Table::Stretch, &[3, 10, 12, 7, 7, 9]),
    (Table::Strain, &[1, 10, 14, 12, 5, 20]),
    (Table::Barre, &[32, 37, 41, 41, 42]),
    (Table::SmallBarre, &[103, 101, 88, 92, 90, 101]),
    (Table::Reversed, &[67, 75, 56]),
    (Table::Position, &[9, 17, 19, 20, 32, 43, 44, 60, 66, 73, 96, 99]),
    (Table::Body, &[40]),
    (Table::Skipped, &[0]),
    (Table::Crossed, &[40]),
    (
        Table::Zone,
        &[
            -4, -3, 17, 10, 6, -11, 2, 4, -7, -25, -10, 0, -3, -2, -9, -22, 6, -3, -12, -14, -14, -14, -4,
            12, 4, -15, 0, 12, -2, 4,
        ],
    ),
    (Table::OpenBelow, &[-1, 9, 2, 2]),
    (Table::Stays, &[-5, -13, -21, -26, -37, 0, 0, 0, 0, 0]),
    (
        Table::Slides,
        &[
            -13, -13, -13, -7, -16, -18, -9, -12, -10, -8, -11, -17, -14, -16, -10, 3, 3, 3, 3, 0, 2, 3, 3,
            3, 3, 2, 1, 3, 3, 2,
        ],
    ),
    (Table::Hops, &[-8, -8, -16, -15, -15, -2, -5, -12, -8, -12, 9, 9, 4, 4, 7, 10, 7, 8, 6, 8]),
    (Table::Jumps, &[-8, -8, -2, -1, -10, -15, -7, 3, -5, -8, 9, 9, 4, 7, 9, 6, 10, 10, 9, 5]),
    (Table::Lands, &[-3, -7, -6, -4, -13, 3, 3, 0, 2, 4]),
    (Table::Leaves, &[0, -6, -3, -2, -9, 0, 0, 0, 0, 0]),
    (Table::Hinges, &[-18, -11, 0, 1]),
    (Table::BarreLands, &[1, 0, 1, 1]),
    (Table::Opens, &[3, 2]),
    (Table::Replaces, &[-6, 0]),
    (Table::Follows, &[1, -2, -6, -6, 8, 0, 0, 0, 0, 0]),
    (Table::Repeats, &[0, -1, 0, 0]),
    (Table::Crosses, &[2, -2, -1, 0, 0, 0]),
    (Table::Shifts, &[2, 3, 3, 4, 4, 4, 15, 20, 20, 21, 2, 2, 2, 10, 10, 16, 24, 26, 30, 31]),
    (Table::ShiftsFree, &[1, 1, 1, 4, 4, 26, 26, 31, 37, 37, 2, 4, 4, 13, 13, 23, 27, 31, 36, 37]),
    (Table::Returns, &[0, 0]),
    (Table::Rings, &[1, 0]),
];
