//! The tables of weights: what each is for and how long it is.

/// How many entries all tables have together.
pub(super) const ENTRIES: usize = Table::first(Table::ALL.len());

/// A table of weights.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Table {
    /// Putting a finger down, from finger 1 to finger 4.
    Finger,
    /// The thumb over the edge.
    Thumb,
    /// Each [`SEMITONE`](crate::hand::span::SEMITONE) that two fingers are apart beyond relaxed, and again beyond
    /// comfortable.
    Stretch,
    /// Each fret that two fingers lack to lie side by side.
    Cramped,
    /// A barre of finger 1 over two strings.
    Barre,
    /// Each further string of a barre of finger 1.
    BarreString,
    /// A barre of finger 2, 3 or 4.
    SmallBarre,
    /// Two neighbouring fingers the other way round.
    Reversed,
    /// Each fret up the neck the hand stands.
    Position,
    /// Each fret beyond the body joint.
    Body,
    /// Each silent string between sounding ones.
    Skipped,
    /// Each pair of neighbouring sounding strings of which the lower one sounds higher.
    Crossed,
    /// Each open string.
    Open,
    /// A shift of one [`SEMITONE`](crate::hand::span::SEMITONE) in one second.
    Shift,
    /// A finger that comes down, in half a second.
    Landing,
    /// A finger that hops to another string in half a second.
    Hopping,
    /// A finger that keeps its place, besides what putting it down would cost.
    Pivot,
    /// A finger that slides along its string.
    Guide,
    /// An open string that rings over a shift.
    OpenRinging,
}

impl Table {
    /// Every table, in the order in which they are kept.
    pub const ALL: [Self; 19] = [
        Self::Finger,
        Self::Thumb,
        Self::Stretch,
        Self::Cramped,
        Self::Barre,
        Self::BarreString,
        Self::SmallBarre,
        Self::Reversed,
        Self::Position,
        Self::Body,
        Self::Skipped,
        Self::Crossed,
        Self::Open,
        Self::Shift,
        Self::Landing,
        Self::Hopping,
        Self::Pivot,
        Self::Guide,
        Self::OpenRinging,
    ];

    /// How many entries it has.
    pub const fn len(self) -> usize {
        match self {
            Self::Finger => 4,
            _ => 1,
        }
    }

    /// Never: a table has at least one entry.
    pub const fn is_empty(self) -> bool {
        false
    }

    /// Where an entry lies among those of all tables.
    ///
    /// # Panics
    /// Where the table has no such entry.
    pub(super) const fn slot(self, entry: usize) -> usize {
        assert!(entry < self.len(), "a table is asked for an entry that it has");
        FIRST[self as usize] + entry
    }

    /// Where the table with this number begins.
    const fn first(number: usize) -> usize {
        let (mut slot, mut table) = (0, 0);
        while table < number {
            slot += Self::ALL[table].len();
            table += 1;
        }
        slot
    }
}

/// Where every table begins.
const FIRST: [usize; Table::ALL.len()] = {
    let mut first = [0; Table::ALL.len()];
    let mut table = 0;
    while table < first.len() {
        first[table] = Table::first(table);
        table += 1;
    }
    first
};
