//! The five-line staff above the tablature, drawn from its lowest line up.

pub(crate) mod accidentals;
mod beams;
pub(crate) mod digits;
pub(crate) mod heads;
pub(crate) mod lines;
mod moment;
pub(crate) mod stems;
pub(crate) mod ties;
pub(crate) mod tuplets;
pub(crate) mod voices;

use handspan_core::spelling::SpelledPitch;

use crate::points::Points;

/// The staff space.
pub(crate) const SPACE: Points = Points::new(5.2);

/// A place on the staff in steps: 0 is the lowest line, 8 the highest.
pub(crate) type Steps = i32;

/// The middle line.
pub(crate) const MIDDLE: Steps = 4;

/// Where a pitch stands under the treble clef that sounds an octave lower.
pub(crate) fn steps(written: SpelledPitch) -> Steps {
    // The lowest line is E3 as it sounds.
    i32::from(written.octave) * 7 + written.spelling.step as i32 - (3 * 7 + 2)
}

/// How far below the lowest line a place lies.
pub(crate) fn y_of(steps: Steps) -> Points {
    -(SPACE * (f64::from(steps) / 2.0))
}
