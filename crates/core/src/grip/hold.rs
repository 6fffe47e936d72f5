//! How one string sounds: at which fret, under which finger, by which touch.

use std::fmt;
use std::num::NonZeroU8;

use crate::hand::Finger;
use crate::neck::{Fret, Instrument, Node, Place, StringIndex, Touch};
use crate::pitch::Pitch;

/// How one string sounds in a grip. A harmonic is always one that can sound.
///
/// A byte, so that searches copy, compare and look up grips fast.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hold(NonZeroU8);

/// What a hold means.
#[derive(Clone, Copy)]
pub(super) struct Parts {
    pub(super) fret: Fret,
    pub(super) finger: Option<Finger>,
    pub(super) touch: Touch,
}

impl Hold {
    /// An open string.
    pub const OPEN: Self = Self::unfingered(Fret::OPEN);

    /// A string stopped at a fret by a finger.
    pub const fn stopped(fret: Fret, finger: Finger) -> Self {
        Self::plain(fret, Some(finger))
    }

    /// A string that sounds at a fret, of which nobody has said which finger stops it.
    pub const fn unfingered(fret: Fret) -> Self {
        Self::plain(fret, None)
    }

    /// A string at a fret under a finger or none, whether or not that can be; no harmonic.
    pub const fn plain(fret: Fret, finger: Option<Finger>) -> Self {
        Self::new(Parts { fret, finger, touch: Touch::Plain })
    }

    /// A natural harmonic that rings by itself, its finger gone or not yet named.
    pub const fn ringing(node: Node) -> Self {
        Self::new(Parts { fret: node.fret(), finger: None, touch: Touch::Natural })
    }

    /// An artificial harmonic over a fret that nobody is said to stop yet; none where it cannot be touched.
    pub fn artificial(fret: Fret) -> Option<Self> {
        let reaches = !fret.is_open() && fret <= Touch::HIGHEST_STOPPED;
        reaches.then_some(Self::new(Parts { fret, finger: None, touch: Touch::Artificial }))
    }

    /// A string that sounds at a fret by a touch; none where no harmonic sounds there.
    pub fn touched(fret: Fret, touch: Touch) -> Option<Self> {
        match touch {
            Touch::Plain => Some(Self::unfingered(fret)),
            Touch::Natural => Node::at(fret).map(Self::ringing),
            Touch::Artificial => Self::artificial(fret),
        }
    }

    /// The same under a finger; none for a harmonic under the thumb, which is too stiff over the edge of the neck.
    pub const fn under(self, finger: Finger) -> Option<Self> {
        UNDER[finger as usize][self.0.get() as usize]
    }

    /// The fret at which it is stopped, or above which it is touched for a natural harmonic.
    pub const fn fret(self) -> Fret {
        self.parts().fret
    }

    /// The finger that stops or touches it; none on an open string and where a natural harmonic rings by itself.
    pub const fn finger(self) -> Option<Finger> {
        self.parts().finger
    }

    /// How it is made to sound.
    pub const fn touch(self) -> Touch {
        self.parts().touch
    }

    /// Where the string is pressed: nowhere, as if open, under a natural harmonic.
    pub const fn pressed(self) -> Fret {
        let Parts { fret, touch, .. } = self.parts();
        match touch {
            Touch::Natural => Fret::OPEN,
            Touch::Plain | Touch::Artificial => fret,
        }
    }

    /// The same once it sounds: a natural harmonic rings without its finger.
    #[must_use]
    pub const fn struck(self) -> Self {
        match self.touch() {
            Touch::Natural => Self::new(Parts { finger: None, ..self.parts() }),
            Touch::Plain | Touch::Artificial => self,
        }
    }

    /// What sounds on a string of an instrument, none where it has no such fret.
    pub fn sounds(self, instrument: &Instrument, string: StringIndex) -> Option<Pitch> {
        instrument.sounding_by(Place { string, fret: self.fret() }, self.touch())
    }

    /// A number of its own, from 1 on, below [`HOLDS`].
    pub(crate) const fn packed(self) -> u8 {
        self.0.get()
    }

    /// Every hold there is.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        (1..=u8::MAX).filter_map(NonZeroU8::new).map(Self)
    }

    const fn new(parts: Parts) -> Self {
        Self(NonZeroU8::new(pack(parts)).expect("every hold has a number from 1 on"))
    }

    #[inline]
    pub(super) const fn parts(self) -> Parts {
        PARTS[self.0.get() as usize]
    }
}

impl fmt::Debug for Hold {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Parts { fret, finger, touch } = self.parts();
        f.debug_struct("Hold").field("fret", &fret).field("finger", &finger).field("touch", &touch).finish()
    }
}

/// Digits that a string can be held by: none (open) or one of five.
const DIGITS: u8 = 6;
/// Digits that a harmonic can be held by: none or one of four.
const FINGERS: u8 = 5;
/// The first byte of a natural harmonic, and of an artificial one: every byte has a meaning.
const NATURAL: u8 = 1 + (Fret::MAX + 1) * DIGITS;
const ARTIFICIAL: u8 = NATURAL + Node::ALL.len() as u8 * FINGERS;

const fn pack(Parts { fret, finger, touch }: Parts) -> u8 {
    let digit = match finger {
        None => 0,
        Some(finger) => finger as u8 + 1,
    };
    match touch {
        Touch::Plain => 1 + fret.number() * DIGITS + digit,
        Touch::Natural => NATURAL + node_index(fret) * FINGERS + digit.saturating_sub(1),
        Touch::Artificial => ARTIFICIAL + (fret.number() - 1) * FINGERS + digit.saturating_sub(1),
    }
}

/// Which of all nodes lies above a fret.
const fn node_index(fret: Fret) -> u8 {
    let mut index = 0;
    while Node::ALL[index].fret().number() != fret.number() {
        index += 1;
    }
    index as u8
}

const fn unpack(byte: u8) -> Parts {
    match byte {
        ..NATURAL => {
            let (fret, digit) = (Fret::new((byte - 1) / DIGITS), (byte - 1) % DIGITS);
            Parts { fret, finger: digit_of(digit), touch: Touch::Plain }
        }
        NATURAL..ARTIFICIAL => {
            let (node, digit) = ((byte - NATURAL) / FINGERS, (byte - NATURAL) % FINGERS);
            let fret = Node::ALL[node as usize].fret();
            Parts { fret, finger: finger_of(digit), touch: Touch::Natural }
        }
        ARTIFICIAL.. => {
            let (below, digit) = ((byte - ARTIFICIAL) / FINGERS, (byte - ARTIFICIAL) % FINGERS);
            Parts { fret: Fret::new(below + 1), finger: finger_of(digit), touch: Touch::Artificial }
        }
    }
}

/// A digit of a harmonic: none or a finger, never the thumb.
const fn finger_of(digit: u8) -> Option<Finger> {
    if digit == 0 { None } else { digit_of(digit + 1) }
}

const fn digit_of(digit: u8) -> Option<Finger> {
    match digit {
        0 => None,
        1 => Some(Finger::Thumb),
        2 => Some(Finger::Index),
        3 => Some(Finger::Middle),
        4 => Some(Finger::Ring),
        _ => Some(Finger::Little),
    }
}

/// One more than the number of holds.
pub(crate) const HOLDS: usize = u8::MAX as usize + 1;

/// What every byte means, worked out once: searches ask millions of times. Nothing is held by 0.
const PARTS: [Parts; HOLDS] = {
    let mut parts = [Parts { fret: Fret::OPEN, finger: None, touch: Touch::Plain }; HOLDS];
    let mut byte = u8::MAX;
    while byte > 0 {
        parts[byte as usize] = unpack(byte);
        byte -= 1;
    }
    parts
};

/// Every hold under every finger, by [`Hold::packed`].
const UNDER: [[Option<Hold>; HOLDS]; Finger::ALL.len()] = {
    let mut under = [[None; HOLDS]; Finger::ALL.len()];
    let mut digit = 0;
    while digit < Finger::ALL.len() {
        let finger = Finger::ALL[digit];
        let mut byte = u8::MAX;
        while byte > 0 {
            let parts = PARTS[byte as usize];
            if !(matches!(finger, Finger::Thumb) && parts.touch.is_harmonic()) {
                under[digit][byte as usize] = Some(Hold::new(Parts { finger: Some(finger), ..parts }));
            }
            byte -= 1;
        }
        digit += 1;
    }
    under
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_is_a_hold_of_its_own() {
        for byte in 1..=u8::MAX {
            let parts = unpack(byte);
            assert_eq!(pack(parts), byte);
            assert_eq!(Hold::touched(parts.fret, parts.touch).map(Hold::fret), Some(parts.fret));
        }
    }
}
