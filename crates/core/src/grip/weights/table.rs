//! The tables of weights: what each is for and how long it is.

use crate::grip::moves::LEADS;
use crate::grip::{GripTerm, MoveTerm};

/// How many entries all tables have together.
pub(super) const ENTRIES: usize = Table::first(Table::ALL.len());

/// How many zones of the neck tell strings apart: open, frets 1 to 4, 5 to 7, 8 to 11, 12 and beyond.
const ZONES: usize = 5;
/// Strings below the sixth count as the sixth.
const STRINGS: usize = 6;
/// Pairs of fingers: 1–2, 2–3, 3–4, 1–3, 2–4, 1–4.
const PAIRS: usize = 6;

/// Every table with its length; one list, so that none is forgotten.
macro_rules! tables {
    ($($(#[doc = $doc:literal])+ $name:ident: $len:expr,)+) => {
        /// A table of weights.
        ///
        /// Tables of moves hold every entry twice: first what it costs with all the time in the world, then what each
        /// step of haste adds (see [`Pace`](crate::grip::Pace)).
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum Table {
            $($(#[doc = $doc])+ $name,)+
        }

        impl Table {
            /// Every table, in the order in which they are kept.
            pub const ALL: [Self; [$($len),+].len()] = [$(Self::$name),+];
            const LENGTHS: [usize; Self::ALL.len()] = [$($len),+];
        }
    };
}

tables! {
    /// Putting a finger down, from finger 1 to finger 4.
    Finger: 4,
    /// The thumb over the edge.
    Thumb: 1,
    /// Which fingers are down together: 1 for the first, 2 for the second, 4 for the third, 8 for the fourth, added up.
    Together: 16,
    /// A finger on a string: six strings for finger 1, then for finger 2 and so on.
    FingerString: 4 * STRINGS,
    /// Two fingers 0 to 6 frets apart, for every pair of fingers.
    Apart: PAIRS * 7,
    /// A finger that is down alone, at fret 1 to 10 and beyond: ten frets for finger 1, then for finger 2.
    Alone: 4 * 10,
    /// How two fingers lie, for every pair of fingers: at one fret, 1, 2, 3, 4 or more frets apart, each with the
    /// higher finger three or more strings nearer to the treble, two, one, on the same string, up to three or more
    /// nearer to the bass. Of a barre its highest string counts.
    Slant: PAIRS * 5 * 7,
    /// Each half [`SEMITONE`](crate::hand::span::SEMITONE) that two fingers are apart beyond relaxed, by pair.
    Stretch: PAIRS,
    /// Each half [`SEMITONE`](crate::hand::span::SEMITONE) that two fingers are apart beyond comfortable, by pair.
    Strain: PAIRS,
    /// A barre of finger 1 over two strings, three, up to six and more.
    Barre: 5,
    /// A barre of finger 2 over two strings, over three, then of fingers 3 and 4.
    SmallBarre: 6,
    /// Fingers 1 and 2, 2 and 3, 3 and 4 the other way round at one fret.
    Reversed: 3,
    /// The fret at which the hand stands, from 1 to 12 and beyond.
    Position: 12,
    /// Each fret beyond the body joint.
    Body: 1,
    /// Each silent string between sounding ones.
    Skipped: 1,
    /// Each pair of neighbouring sounding strings of which the lower one sounds higher.
    Crossed: 1,
    /// A sounding string, from the first to the sixth, in each zone of the neck: open, frets 1 to 4, 5 to 7, 8 to 11,
    /// 12 and beyond.
    Zone: STRINGS * ZONES,
    /// Each open string while the hand stands at fret 1 or 2, at 3 or 4, from 5 to 8, beyond.
    OpenBelow: 4,
    /// A grip that fits no easy grip of the chord that the music around spells out: the easiest that has it within is
    /// 5 points dearer than the easiest of the chord, 10, 20, 35, 60, or there is none.
    Shape: 6,
    /// A digit that stays where it is, the thumb first.
    Stays: 2 * 5,
    /// A digit that slides along its string by one fret, by two, farther; the thumb first.
    Slides: 2 * 5 * 3,
    /// A digit that goes to the neighbouring string at its fret, then farther across; the thumb first.
    Hops: 2 * 5 * 2,
    /// A digit that goes to another fret of the neighbouring string, then farther across; the thumb first.
    Jumps: 2 * 5 * 2,
    /// A digit that comes down from the air, the thumb first.
    Lands: 2 * 5,
    /// A digit that is lifted, the thumb first.
    Leaves: 2 * 5,
    /// Finger 1 lays its barre down over more strings, then any other finger.
    Hinges: 2 * 2,
    /// A barre that is taken anew: of finger 1, of another one.
    BarreLands: 2 * 2,
    /// Each half [`SEMITONE`](crate::hand::span::SEMITONE) by which the widest pair of the next grip is beyond
    /// comfortable.
    Opens: 2,
    /// Another finger takes over a place.
    Replaces: 2,
    /// Another finger goes on along a string: two frets or more short of where it would lie, one short, just there, one
    /// beyond, two or more beyond.
    Follows: 2 * 5,
    /// A string that sounds at the same fret again.
    Repeats: 2,
    /// The fingers of the highest string before and after, each pair from 1–1, 1–2 to 4–4: three or more frets towards
    /// the nut, two, one, at the same fret, up to three or more away from it; each on a string nearer to the treble, on
    /// the same one, on one nearer to the bass.
    Leads: 2 * 16 * LEADS,
    /// The hand travels so many [`SEMITONE`](crate::hand::span::SEMITONE)s, rounded up, while a finger keeps its place:
    /// 1 to 10; farther ways count by the last of them ([`travelled`](crate::grip::moves::travelled)).
    ShiftsPivot: 2 * 10,
    /// The same when fingers are down and none keeps its place.
    Shifts: 2 * 10,
    /// The same while no finger is down.
    ShiftsFree: 2 * 10,
    /// The hand travels towards the nut.
    Returns: 2,
    /// An open string rings while the hand travels.
    Rings: 2,
}

/// The name under which a player sees what a table costs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Shown {
    /// Among the terms of a grip.
    Grip(GripTerm),
    /// Among the terms of a move.
    Move(MoveTerm),
}

impl Table {
    /// How many entries it has.
    pub const fn len(self) -> usize {
        Self::LENGTHS[self as usize]
    }

    /// Never: a table has at least one entry.
    pub const fn is_empty(self) -> bool {
        false
    }

    /// Under which name a player sees it.
    pub const fn shown(self) -> Shown {
        match self {
            Self::Finger | Self::Together | Self::FingerString | Self::Alone => {
                Shown::Grip(GripTerm::Fingers)
            }
            Self::Thumb => Shown::Grip(GripTerm::Thumb),
            Self::Apart | Self::Slant => Shown::Grip(GripTerm::Lie),
            Self::Stretch | Self::Strain => Shown::Grip(GripTerm::Stretch),
            Self::Barre | Self::SmallBarre => Shown::Grip(GripTerm::Barre),
            Self::Reversed => Shown::Grip(GripTerm::Reversed),
            Self::Position | Self::Body => Shown::Grip(GripTerm::Position),
            Self::Skipped => Shown::Grip(GripTerm::Skipped),
            Self::Crossed => Shown::Grip(GripTerm::Crossed),
            Self::Zone => Shown::Grip(GripTerm::Strings),
            Self::OpenBelow => Shown::Grip(GripTerm::OpenStrings),
            Self::Shape => Shown::Grip(GripTerm::Shape),
            Self::Stays => Shown::Move(MoveTerm::Pivot),
            Self::Slides => Shown::Move(MoveTerm::Guide),
            Self::Hops | Self::Jumps => Shown::Move(MoveTerm::Hopping),
            Self::Lands | Self::Leaves => Shown::Move(MoveTerm::Landing),
            Self::Hinges => Shown::Move(MoveTerm::Hinge),
            Self::BarreLands | Self::Opens => Shown::Move(MoveTerm::Haste),
            Self::Replaces => Shown::Move(MoveTerm::Replacing),
            Self::Follows => Shown::Move(MoveTerm::Following),
            Self::Leads => Shown::Move(MoveTerm::Leading),
            Self::Repeats => Shown::Move(MoveTerm::Repeating),
            Self::ShiftsPivot | Self::Shifts | Self::ShiftsFree | Self::Returns => {
                Shown::Move(MoveTerm::Shift)
            }
            Self::Rings => Shown::Move(MoveTerm::OpenRinging),
        }
    }

    /// Where an entry lies among those of all tables.
    ///
    /// # Panics
    /// Where the table has no such entry.
    pub const fn slot(self, entry: usize) -> usize {
        assert!(entry < self.len(), "a table is asked for an entry that it has");
        FIRST[self as usize] + entry
    }

    /// Where the table with this number begins.
    const fn first(number: usize) -> usize {
        let (mut slot, mut table) = (0, 0);
        while table < number {
            slot += Self::LENGTHS[table];
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
