//! What holding and moving costs, as tables of whole numbers.
//!
//! Whole points, where ten or so are what a player notices. Effort is linear in them: a grip or a move counts how
//! often each weight applies, so that weights can be learned from published fingerings.

mod own;
mod table;

pub use table::{Shown, Table};

/// A set of weights: a whole number for every entry of every [`Table`].
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Weights {
    points: [i32; Self::ENTRIES],
}

impl Weights {
    /// How many entries all tables have together.
    pub const ENTRIES: usize = table::ENTRIES;
    /// The program's own weights.
    pub const OWN: Self = Self::of(&own::OWN);
    /// Nothing costs anything.
    pub const NONE: Self = Self { points: [0; Self::ENTRIES] };

    /// Weights from tables; those that are not given cost nothing.
    ///
    /// # Panics
    /// Where a table is not given in full.
    pub const fn of(tables: &[(Table, &[i32])]) -> Self {
        let mut weights = Self::NONE;
        let mut number = 0;
        while number < tables.len() {
            let (table, entries) = tables[number];
            assert!(entries.len() == table.len(), "a table is given in full");
            let mut entry = 0;
            while entry < entries.len() {
                weights.set(table, entry, entries[entry]);
                entry += 1;
            }
            number += 1;
        }
        weights
    }

    /// Weights from the points of all tables, in the order of [`Table::slot`]; what is missing costs nothing.
    pub fn from_points(points: &[i32]) -> Self {
        let mut weights = Self::NONE;
        for (mine, given) in weights.points.iter_mut().zip(points) {
            *mine = *given;
        }
        weights
    }

    /// The points of all tables, in the order of [`Table::slot`].
    pub const fn points(&self) -> &[i32; Self::ENTRIES] {
        &self.points
    }

    /// One entry of a table.
    pub const fn get(&self, table: Table, entry: usize) -> i32 {
        self.points[table.slot(entry)]
    }

    /// Changes one entry of a table.
    pub const fn set(&mut self, table: Table, entry: usize, points: i32) {
        self.points[table.slot(entry)] = points;
    }

    /// All entries of a table.
    pub fn table(&self, table: Table) -> &[i32] {
        &self.points[table.slot(0)..][..table.len()]
    }
}
