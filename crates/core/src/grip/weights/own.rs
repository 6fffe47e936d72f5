//! The program's own weights, set by hand for now.
//!
//! Sources are named where there are any; the rest is common practice, no source. No published constant for shifts of
//! a guitarist's hand by time exists: the one here is the project's own.

use super::table::{ENTRIES, Table};

/// Every table with its entries.
const OWN: [(Table, &[i32]); Table::ALL.len()] = [
    // Weak fingers cost more: the order follows the use of the four fingers in published fingerings, 0.35 / 0.30 /
    // 0.25 / 0.10 (Hori and Sagayama 2016, quoted second-hand).
    (Table::Finger, &[3, 4, 5, 8]),
    (Table::Thumb, &[14]),
    // Parncutt 1997: 2 each.
    (Table::Stretch, &[2]),
    (Table::Cramped, &[2]),
    (Table::Barre, &[5]),
    (Table::BarreString, &[2]),
    (Table::SmallBarre, &[20]),
    (Table::Reversed, &[12]),
    (Table::Position, &[2]),
    (Table::Body, &[8]),
    // After the rubric of Vélez Vásquez et al. 2023.
    (Table::Skipped, &[2]),
    // Thumb and ear expect it otherwise.
    (Table::Crossed, &[8]),
    (Table::Open, &[-3]),
    (Table::Shift, &[1]),
    (Table::Landing, &[1]),
    (Table::Hopping, &[2]),
    (Table::Pivot, &[-1]),
    (Table::Guide, &[-2]),
    (Table::OpenRinging, &[-2]),
];

/// The weights in the order of their slots.
pub(super) const fn points() -> [i32; ENTRIES] {
    let mut points = [0; ENTRIES];
    let mut table = 0;
    while table < OWN.len() {
        let (name, entries) = OWN[table];
        assert!(
            name as usize == table && entries.len() == name.len(),
            "every table is given, in order, in full"
        );
        let mut entry = 0;
        while entry < entries.len() {
            points[name.slot(entry)] = entries[entry];
            entry += 1;
        }
        table += 1;
    }
    points
}
