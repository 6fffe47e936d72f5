//! The weights as they were set by hand, before anything was learned: in tenths of a point.
//!
//! They are what learned weights are compared with, and where learning begins. Sources are named where there are any;
//! the rest is common practice, no source.
//!
//! Weak fingers cost more: the order follows the use of the four fingers in published fingerings, 0.35 / 0.30 / 0.25 /
//! 0.10 (Hori and Sagayama 2016, quoted second-hand). Stretches cost 2 points a semitone of the span table (Parncutt
//! 1997). Skipped strings follow the rubric of Vélez Vásquez et al. 2023. No published constant for shifts of a
//! guitarist's hand by time exists: those here are the project's own.

use handspan_core::grip::weights::Table;

/// Every table with its entries.
pub(super) const BY_HAND: [(Table, &[i32]); Table::ALL.len()] = [
    (Table::Finger, &[30, 40, 50, 80]),
    (Table::Thumb, &[140]),
    (Table::Together, &[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    (Table::FingerString, &[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    (
        Table::Apart,
        &[
            0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 20, 0, 0, 0, 0, 0, 0, 20, 0, 0, 0,
            0, 0, 0, 40, 20, 0, 0, 0, 0, 0,
        ],
    ),
    (Table::Alone, &[0; Table::Alone.len()]),
    (Table::Slant, &[0; Table::Slant.len()]),
    (Table::Stretch, &[10, 10, 10, 10, 10, 10]),
    (Table::Strain, &[10, 10, 10, 10, 10, 10]),
    (Table::Barre, &[50, 70, 90, 110, 130]),
    (Table::SmallBarre, &[200, 200, 200, 200, 200, 200]),
    (Table::Reversed, &[120, 120, 120]),
    (Table::Position, &[0, 20, 40, 60, 80, 100, 120, 140, 160, 180, 200, 220]),
    (Table::Body, &[80]),
    (Table::Skipped, &[20]),
    (Table::Crossed, &[80]),
    (
        Table::Zone,
        &[
            -30, 0, 0, 0, 0, -30, 0, 0, 0, 0, -30, 0, 0, 0, 0, -30, 0, 0, 0, 0, -30, 0, 0, 0, 0, -30, 0, 0,
            0, 0,
        ],
    ),
    (Table::OpenBelow, &[0, 0, 0, 0]),
    (Table::Shape, &[0; 6]),
    (Table::Stays, &[-10, -40, -50, -60, -90, 0, 0, 0, 0, 0]),
    (
        Table::Slides,
        &[
            -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, -25, 6, 6, 6, 6, 6, 6, 6,
            6, 6, 6, 6, 6, 6, 6, 6,
        ],
    ),
    (
        Table::Hops,
        &[-15, -15, -15, -15, -15, -15, -15, -15, -15, -15, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18],
    ),
    (
        Table::Jumps,
        &[-15, -15, -15, -15, -15, -15, -15, -15, -15, -15, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18],
    ),
    (Table::Lands, &[-5, -5, -5, -5, -5, 6, 6, 6, 6, 6]),
    (Table::Leaves, &[0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    (Table::Hinges, &[-5, -5, 6, 6]),
    (Table::BarreLands, &[0, 0, 0, 0]),
    (Table::Opens, &[0, 0]),
    (Table::Replaces, &[0, 0]),
    (Table::Follows, &[0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    (Table::Repeats, &[0, 0]),
    (Table::Leads, &[0; Table::Leads.len()]),
    (Table::ShiftsPivot, &[5, 15, 25, 35, 45, 55, 65, 75, 85, 95, 4, 13, 21, 30, 38, 47, 55, 64, 72, 81]),
    (Table::Shifts, &[5, 15, 25, 35, 45, 55, 65, 75, 85, 95, 4, 13, 21, 30, 38, 47, 55, 64, 72, 81]),
    (Table::ShiftsFree, &[5, 15, 25, 35, 45, 55, 65, 75, 85, 95, 4, 13, 21, 30, 38, 47, 55, 64, 72, 81]),
    (Table::Returns, &[0, 0]),
    (Table::Rings, &[-20, 0]),
];
