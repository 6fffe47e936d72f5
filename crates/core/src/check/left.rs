//! The rules of the left hand, over everything that sounds at one moment.

use std::cmp::Ordering;

use thiserror::Error;

use super::harmonic;
use crate::grip::StringSet;
use crate::hand::{Finger, Hand};
use crate::neck::geometry::Micrometres;
use crate::neck::{Fret, Instrument, Place, StringIndex, Touch};

/// A sounding string with what stops it. Other than in a grip a string may stand twice, which is one of the things
/// that can be wrong.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    pub(super) place: Place,
    pub(super) touch: Touch,
    pub(super) finger: Option<Finger>,
}

impl Stop {
    /// Where the string is pressed: a touched string is not.
    const fn pressed(self) -> Fret {
        match self.touch {
            Touch::Natural => Fret::OPEN,
            Touch::Plain | Touch::Artificial => self.place.fret,
        }
    }
}

/// A rule of the hand or the neck that a grip breaks.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Error)]
pub enum GripFault {
    /// A string or fret that the instrument has not.
    #[error("there is no {0} on this neck")]
    OffTheNeck(Place),
    /// A harmonic where the string has no node, or none that can be touched.
    #[error("there is no harmonic at {0}")]
    NoNode(Place),
    /// The thumb on a string that sounds a harmonic.
    #[error("the thumb cannot hold {0} for a harmonic")]
    ThumbOnHarmonic(Place),
    /// One finger that presses a string and touches another.
    #[error("finger {finger} presses {pressed} and touches {touched} at once")]
    PressesAndTouches {
        /// The finger.
        finger: Finger,
        /// What it presses.
        pressed: Place,
        /// What it should only touch.
        touched: Place,
    },
    /// A natural harmonic under a finger that lies across it.
    #[error("finger {finger} at fret {fret} lies over string {string}, which sounds a natural harmonic")]
    LiesOverHarmonic {
        /// The finger.
        finger: Finger,
        /// Its fret.
        fret: Fret,
        /// The string that must be free.
        string: StringIndex,
    },
    /// A finger on a string that sounds open.
    #[error("finger {finger} is on string {string}, which sounds open")]
    FingerOnOpen {
        /// The open string.
        string: StringIndex,
        /// The finger on it.
        finger: Finger,
    },
    /// A stopped string that nothing stops.
    #[error("no finger stops {0}")]
    NoFinger(Place),
    /// One finger at two frets.
    #[error("finger {finger} is on {here} and on {there} at once")]
    TwoPlaces {
        /// The finger.
        finger: Finger,
        /// One of its places.
        here: Place,
        /// Another.
        there: Place,
    },
    /// A string that sounds lower under a barre.
    #[error("the barre of finger {finger} at fret {fret} lies over {under}")]
    BarreOverLower {
        /// The barring finger.
        finger: Finger,
        /// Its fret.
        fret: Fret,
        /// What should sound under it.
        under: Place,
    },
    /// Another finger between the outer strings of a barre at its own fret.
    #[error("finger {standing} stands on the barre of finger {finger} at fret {fret}")]
    FingerOnBarre {
        /// The barring finger.
        finger: Finger,
        /// The one that has no room.
        standing: Finger,
        /// The fret of both.
        fret: Fret,
    },
    /// Fingers 2 to 4 over more than three strings.
    #[error("finger {finger} cannot bar strings {highest} to {lowest}")]
    BarreTooWide {
        /// The finger.
        finger: Finger,
        /// The highest string it holds.
        highest: StringIndex,
        /// The lowest.
        lowest: StringIndex,
    },
    /// The thumb of a hand that keeps it behind the neck.
    #[error("this hand does not use its thumb on the neck")]
    ThumbNotUsed,
    /// The thumb on another string than the lowest.
    #[error("the thumb cannot hold string {0}, only the lowest one")]
    ThumbInside(StringIndex),
    /// A lower-numbered finger at a higher fret than a higher-numbered one.
    #[error("finger {lower} at fret {at} stands above finger {higher} at fret {below}")]
    OutOfOrder {
        /// The finger with the lower number.
        lower: Finger,
        /// Its fret.
        at: Fret,
        /// The finger with the higher number.
        higher: Finger,
        /// Its fret.
        below: Fret,
    },
    /// Two fingers that are no neighbours, at one fret with the lower number nearer the treble.
    #[error("fingers {lower} and {higher} stand the wrong way round at fret {fret}")]
    WrongWayRound {
        /// The finger with the lower number.
        lower: Finger,
        /// The finger with the higher number.
        higher: Finger,
        /// The fret of both.
        fret: Fret,
    },
    /// Two fingers farther apart along the neck than the hand reaches.
    #[error("fingers {lower} and {higher} are {apart} apart, farther than the {limit} they reach")]
    OutOfReach {
        /// The finger with the lower number.
        lower: Finger,
        /// The finger with the higher number.
        higher: Finger,
        /// How far apart they press.
        apart: Micrometres,
        /// How far this hand reaches with them.
        limit: Micrometres,
    },
}

impl GripFault {
    /// Whether a finger or string that was just put down has to do with it: else it was told before.
    pub(super) fn concerns(&self, stops: &[Stop], strings: StringSet) -> bool {
        let moved = |finger: Finger| {
            stops.iter().any(|s| s.finger == Some(finger) && strings.contains(s.place.string))
        };
        match *self {
            Self::OffTheNeck(place)
            | Self::NoFinger(place)
            | Self::NoNode(place)
            | Self::ThumbOnHarmonic(place) => strings.contains(place.string),
            Self::FingerOnOpen { string, .. } | Self::ThumbInside(string) => strings.contains(string),
            Self::TwoPlaces { finger, .. }
            | Self::PressesAndTouches { finger, .. }
            | Self::BarreTooWide { finger, .. } => moved(finger),
            Self::LiesOverHarmonic { finger, string, .. } => moved(finger) || strings.contains(string),
            Self::BarreOverLower { finger, under, .. } => moved(finger) || strings.contains(under.string),
            Self::FingerOnBarre { finger, standing, .. } => moved(finger) || moved(standing),
            Self::ThumbNotUsed => moved(Finger::Thumb),
            Self::OutOfOrder { lower, higher, .. }
            | Self::WrongWayRound { lower, higher, .. }
            | Self::OutOfReach { lower, higher, .. } => moved(lower) || moved(higher),
        }
    }
}

/// A finger with the places it presses.
struct Pressing {
    finger: Finger,
    places: Vec<Place>,
}

/// Every rule that the sounding strings break together.
pub(super) fn judge(instrument: &Instrument, hand: &Hand, stops: &[Stop]) -> Vec<GripFault> {
    let mut faults: Vec<GripFault> =
        stops.iter().filter_map(|stop| fault_of_place(instrument, *stop)).collect();
    let fingers = pressing(stops);
    for (index, one) in fingers.iter().enumerate() {
        faults.extend(faults_of_finger(instrument, hand, one, stops));
        for other in &fingers[index + 1..] {
            faults.extend(faults_of_pair(instrument, hand, one, other));
        }
    }
    faults
}

fn fault_of_place(instrument: &Instrument, stop: Stop) -> Option<GripFault> {
    let place = stop.place;
    if instrument.sounding(place).is_none() {
        return Some(GripFault::OffTheNeck(place));
    }
    if harmonic::sounds(instrument, place, stop.touch).is_none() {
        return Some(GripFault::NoNode(place));
    }
    if stop.touch.is_harmonic() && stop.finger == Some(Finger::Thumb) {
        return Some(GripFault::ThumbOnHarmonic(place));
    }
    match (stop.pressed().is_open() && stop.touch == Touch::Plain, stop.finger) {
        // It rings by itself once it sounds.
        (_, None) if stop.touch == Touch::Natural => None,
        (true, Some(finger)) => Some(GripFault::FingerOnOpen { string: place.string, finger }),
        (false, None) => Some(GripFault::NoFinger(place)),
        _ => None,
    }
}

/// The fingers in use, the thumb first, then by number.
fn pressing(stops: &[Stop]) -> Vec<Pressing> {
    let all = [Finger::Thumb].into_iter().chain(Finger::FOUR);
    let presses = all.map(|finger| Pressing {
        finger,
        places: stops
            .iter()
            .filter(|s| s.finger == Some(finger) && !s.place.fret.is_open())
            .map(|s| s.place)
            .collect(),
    });
    presses.filter(|p| !p.places.is_empty()).collect()
}

/// What is wrong with a finger by itself and with what lies under it.
fn faults_of_finger(instrument: &Instrument, hand: &Hand, one: &Pressing, stops: &[Stop]) -> Vec<GripFault> {
    let mut faults = Vec::new();
    let finger = one.finger;
    if finger == Finger::Thumb {
        if !hand.thumb {
            faults.push(GripFault::ThumbNotUsed);
        }
        let lowest = instrument.lowest_string();
        let inside = one.places.iter().find(|p| p.string != lowest);
        faults.extend(inside.map(|p| GripFault::ThumbInside(p.string)));
    }
    let here = one.places[0];
    if let Some(there) = one.places.iter().find(|p| p.fret != here.fret) {
        faults.push(GripFault::TwoPlaces { finger, here, there: *there });
        return faults;
    }
    let mine = |touched: bool| {
        let stops = stops.iter().filter(move |s| s.finger == Some(finger));
        stops.into_iter().find(move |s| (s.touch == Touch::Natural) == touched && !s.place.fret.is_open())
    };
    if let (Some(pressed), Some(touched)) = (mine(false), mine(true)) {
        faults.push(GripFault::PressesAndTouches { finger, pressed: pressed.place, touched: touched.place });
    }
    let strings = one.places.iter().map(|p| p.string);
    let (highest, lowest) =
        (strings.clone().min().unwrap_or(here.string), strings.max().unwrap_or(here.string));
    if finger != Finger::Index && lowest.index() - highest.index() > 2 {
        faults.push(GripFault::BarreTooWide { finger, highest, lowest });
    }
    let within = |s: &&Stop| s.finger != Some(finger) && s.place.string > highest && s.place.string < lowest;
    faults.extend(stops.iter().filter(within).filter_map(|stop| {
        match (stop.pressed().cmp(&here.fret), stop.finger) {
            (Ordering::Less, _) if stop.touch == Touch::Natural => {
                Some(GripFault::LiesOverHarmonic { finger, fret: here.fret, string: stop.place.string })
            }
            (Ordering::Less, _) => {
                Some(GripFault::BarreOverLower { finger, fret: here.fret, under: stop.place })
            }
            // The barring finger already lies there: a rule of this project, it follows from hands having no room.
            (Ordering::Equal, Some(standing)) => {
                Some(GripFault::FingerOnBarre { finger, standing, fret: here.fret })
            }
            _ => None,
        }
    }));
    faults
}

/// What is wrong between two fingers, the lower-numbered one first.
fn faults_of_pair(
    instrument: &Instrument,
    hand: &Hand,
    lower: &Pressing,
    higher: &Pressing,
) -> Vec<GripFault> {
    let mut faults = Vec::new();
    let pairs = || {
        let others = || higher.places.iter().copied();
        lower.places.iter().flat_map(move |a| others().map(move |b| (*a, b)))
    };
    if lower.finger != Finger::Thumb {
        if let Some((a, b)) = pairs().find(|(a, b)| a.fret > b.fret) {
            faults.push(GripFault::OutOfOrder {
                lower: lower.finger,
                at: a.fret,
                higher: higher.finger,
                below: b.fret,
            });
        }
        let neighbours = higher.finger.number() - lower.finger.number() == 1;
        let reversed = pairs().find(|(a, b)| a.fret == b.fret && a.string < b.string);
        if let Some((a, _)) = reversed.filter(|_| !neighbours) {
            faults.push(GripFault::WrongWayRound {
                lower: lower.finger,
                higher: higher.finger,
                fret: a.fret,
            });
        }
    }
    let distance =
        |(a, b): (Place, Place)| (instrument.press_point(a.fret) - instrument.press_point(b.fret)).abs();
    let apart = pairs().map(distance).max().unwrap_or_default();
    let limit = hand.span(lower.finger, higher.finger).practical;
    if apart > limit {
        faults.push(GripFault::OutOfReach { lower: lower.finger, higher: higher.finger, apart, limit });
    }
    faults
}
