//! What holding and moving costs, as tables of whole numbers.
//!
//! Whole points, where ten or so are what a player notices. Effort is linear in them: a grip or a move counts how
//! often each weight applies, so that weights can be learned from published fingerings.

mod own;
mod table;

pub use table::Table;

/// A set of weights: a whole number for every entry of every [`Table`].
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Weights {
    points: [i32; table::ENTRIES],
}

impl Weights {
    /// The program's own weights.
    pub const OWN: Self = Self { points: own::points() };

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
