//! What a group of items is in the music.

/// What a group of items is in the music.
///
/// Notes and bars carry their index in the score, so that paper can be compared with it and a screen can mark them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// Title, composer, tempo, tuning and legend.
    Heading,
    /// The title within the heading.
    Title,
    /// Running text.
    Paragraph,
    /// Heading and opening of the practice page.
    Practice,
    /// The heading alone.
    PracticeHeading,
    /// A hard move on the practice page, counted from 0.
    Move(usize),
    /// Caution and page number.
    Footer,
    /// One system, counted from 0 through the whole sheet.
    System(usize),
    /// Staff lines, bar lines, clef and repeats.
    Staff,
    /// The five-line staff with all that stands on it.
    Notation,
    /// A time signature.
    Metre,
    /// A figure in the tablature: the index of its note in the score.
    Fret(usize),
    /// A note head on the staff: the index of its note.
    Head(usize),
    /// A note head that is only tied to: the index of its note.
    TiedHead(usize),
    /// A tap on the staff: its index in the score.
    TapHead(usize),
    /// A tap in the tablature: its index.
    TapFigure(usize),
    /// A dot beside note heads.
    NoteDot,
    /// An accidental.
    Accidental,
    /// The left-hand digit beside a figure: the index of its note.
    LeftFinger(usize),
    /// The right-hand letters under a column.
    RightFingers,
    /// The line of a note that rings on: the index of its note.
    Held(usize),
    /// A stem with its flag and dots.
    Stem,
    /// The beams of a group.
    Beam,
    /// A rest.
    Rest,
    /// A tie.
    Tie,
    /// The figure of a tuplet.
    Tuplet,
    /// A chord symbol.
    ChordName,
    /// The bracket over a barre.
    Barre,
    /// The Roman numeral of a position that the left hand takes.
    Position,
    /// Where a harmonic is touched.
    Harmonic,
    /// The arrow of a brush.
    Brush,
    /// A teacher's remark: the index of its bar.
    Remark(usize),
    /// A chord box.
    ChordBox,
    /// A chord symbol with its box, on a page of boxes.
    NamedBox,
    /// The number of a bar: its index.
    BarNumber(usize),
    /// The name of a section.
    Section,
    /// The bracket of a numbered ending.
    Ending,
    /// Segno, coda, D.C., D.S. and fine.
    Jump,
    /// A change of tempo.
    Tempo,
}

impl Role {
    /// What a reader program says of the group, where that helps.
    pub const fn label(self) -> Option<&'static str> {
        match self {
            Self::Heading => Some("heading"),
            Self::Footer => Some("footer"),
            Self::System(_) => Some("system"),
            Self::ChordName => Some("chord symbol"),
            Self::ChordBox => Some("chord box"),
            Self::NamedBox => Some("chord"),
            Self::Move(_) => Some("move"),
            Self::Harmonic => Some("harmonic"),
            Self::BarNumber(_) => Some("bar number"),
            Self::Section => Some("section"),
            _ => None,
        }
    }
}
