//! Written guitar music: every pitch is given, only strings, frets and fingers are to be found.

use super::Part;
use crate::grip::{Grip, Hold};
use crate::neck::{Instrument, StringIndex};
use crate::pitch::Pitch;
pub use crate::tune::{Harmonic, Mark};

/// A note that is struck at a moment of written music.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct WrittenNote {
    /// What sounds. No two notes of one moment sound the same pitch.
    pub pitch: Pitch,
    /// The only string it may be played on, where one is printed.
    pub string: Option<StringIndex>,
    /// The only way to stop it, where a digit is printed.
    pub mark: Option<Mark>,
    /// The harmonic that it is; none for an ordinary note.
    pub harmonic: Option<Harmonic>,
}

impl WrittenNote {
    /// A note without any mark.
    pub const fn plain(pitch: Pitch) -> Self {
        Self { pitch, string: None, mark: None, harmonic: None }
    }

    /// Every way to sound it on its own, the fingers not said, the highest string first.
    pub fn holds(&self, instrument: &Instrument) -> Vec<(StringIndex, Hold)> {
        let mut holds: Vec<(StringIndex, Hold)> = match self.harmonic {
            None => {
                let places = instrument.places(self.pitch);
                places.map(|place| (place.string, Hold::unfingered(place.fret))).collect()
            }
            Some(Harmonic::Natural(only)) => {
                let nodes = instrument.nodes(self.pitch).filter(|(_, node)| only.is_none_or(|n| n == *node));
                nodes.map(|(string, node)| (string, Hold::ringing(node))).collect()
            }
            Some(Harmonic::Artificial) => {
                let places = instrument.stopped_for(self.pitch);
                places.filter_map(|place| Some((place.string, Hold::artificial(place.fret)?))).collect()
            }
        };
        holds.retain(|(string, _)| self.string.is_none_or(|only| only == *string));
        holds
    }

    /// Whether a grip plays the note as it is marked.
    pub fn is_kept_by(&self, grip: &Grip, string: StringIndex) -> bool {
        let finger = grip.hold(string).map(Hold::finger);
        let stopped = match self.mark {
            None => true,
            Some(Mark::Open) => finger == Some(None),
            Some(Mark::Stopped(by)) => finger == Some(Some(by)),
        };
        stopped && self.string.is_none_or(|only| only == string)
    }
}

/// A note that sounds on from before, on its string under its finger.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct SoundingNote {
    /// What sounds.
    pub pitch: Pitch,
    /// Whose note it is: where not everything can be kept, the lowest in part rank is let go first.
    pub part: Part,
}

/// What one moment of written music demands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WrittenDemand {
    /// How much time the move to this moment has.
    pub milliseconds: i64,
    /// Whether a bar has begun since the moment before.
    pub begins_bar: bool,
    /// The notes that are struck.
    pub struck: Vec<WrittenNote>,
    /// The notes that sound on from before, if they have not been let go; none of them is struck anew.
    pub sounding_on: Vec<SoundingNote>,
}
