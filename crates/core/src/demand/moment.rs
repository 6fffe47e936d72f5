//! Parts and the order in which they give way.

/// A part of the arrangement, in part rank: what stands first gives way last.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Part {
    /// The tune's identity; never gives way.
    Melody,
    /// The lowest voice.
    Bass,
    /// Chord tones between.
    Inner,
}

impl Part {
    /// The part in a player's words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Melody => "melody",
            Self::Bass => "bass",
            Self::Inner => "inner voice",
        }
    }
}
