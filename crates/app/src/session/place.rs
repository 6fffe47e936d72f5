//! The places of the window: what the large middle is for. The neck and the ribbon stay where they are.
//!
//! A new place is a variant with its line in [`Place::ALL`], a row in the table of commands and an arm in the window.

/// What the middle of the window is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Place {
    /// Getting the tune down exactly, and mending it.
    Tune,
    /// Stepping moment by moment, browsing voicings.
    Voicings,
    /// The way through the tune or a passage, and other ways.
    Route,
    /// The result on paper.
    Sheet,
}

impl Place {
    /// Every place, in the order of the rail.
    pub const ALL: &[Self] = &[Self::Tune, Self::Voicings, Self::Route, Self::Sheet];

    /// Whether the grip of the moment is explained beside it.
    pub const fn explains_the_grip(self) -> bool {
        matches!(self, Self::Voicings)
    }

    /// Whether the neck is in sight: paper needs the room for itself.
    pub const fn shows_the_neck(self) -> bool {
        !matches!(self, Self::Sheet)
    }
}
