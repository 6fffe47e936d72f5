//! Harmonics: the nodes of a string, and the ways in which a string is made to sound at a fret.

use super::place::Fret;
use crate::pitch::Interval;

/// A node of the open string that a finger can touch, named by the fret above which it lies; as all frets, it is
/// counted from the capo, where the string begins.
///
/// Touched there the string sounds one of its partials 2 to 6, weaker ones being of no use on a guitar.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Node {
    fret: Fret,
    /// In semitones.
    above_open: i16,
}

impl Node {
    /// Every node from the nut on.
    ///
    /// A partial n lies 12·log₂ n semitones above the open string: 12, 19.02, 24, 27.86 and 31.02; against the tempered
    /// pitch the third and the sixth are 2.0 cents sharp, the fifth 13.7 cents flat. Its nodes divide the string by n:
    /// those above frets 3, 4, 9 and 16 lie at 3.16, 3.86, 8.84 and 15.86, the others within a fiftieth of a fret.
    pub const ALL: [Self; 9] = [
        Self::new(3, 31),
        Self::new(4, 28),
        Self::new(5, 24),
        Self::new(7, 19),
        Self::new(9, 28),
        Self::new(12, 12),
        Self::new(16, 28),
        Self::new(19, 19),
        Self::new(24, 24),
    ];

    const fn new(fret: u8, above_open: i16) -> Self {
        Self { fret: Fret::new(fret), above_open }
    }

    /// The node above a fret, if there is one.
    pub fn at(fret: Fret) -> Option<Self> {
        Self::ALL.into_iter().find(|node| node.fret == fret)
    }

    /// The fret above which it lies.
    pub const fn fret(self) -> Fret {
        self.fret
    }

    /// How far above the open string it sounds.
    pub const fn above_open(self) -> Interval {
        Interval::new(self.above_open)
    }
}

/// How a string is made to sound at a fret.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Touch {
    /// It is stopped there, or open.
    #[default]
    Plain,
    /// A natural harmonic: a left-hand finger touches the open string there, and may leave as soon as it sounds.
    Natural,
    /// An artificial harmonic: stopped there, and touched twelve frets above by i of the right hand.
    Artificial,
}

impl Touch {
    /// How far above the stopped fret the string is touched for an artificial harmonic, and sounds.
    pub const OCTAVE: Interval = Interval::new(12);
    /// The highest fret that is stopped for an artificial harmonic: twelve frets above it lies the last there can be.
    pub const HIGHEST_STOPPED: Fret = Fret::new(Fret::MAX - 12);

    /// Whether it is a harmonic.
    pub const fn is_harmonic(self) -> bool {
        !matches!(self, Self::Plain)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// For every node its partial, how far that lies from the tempered pitch in tenths of a cent, and where the node lies
    /// in hundredths of a fret: 1200·log₂ of whole-number ratios, as in any textbook of acoustics.
    const PARTIALS: [(u32, i32, i32); 9] = [
        (6, 20, 316),
        (5, -137, 386),
        (4, 0, 498),
        (3, 20, 702),
        (5, -137, 884),
        (2, 0, 1200),
        (5, -137, 1586),
        (3, 20, 1902),
        (4, 0, 2400),
    ];

    #[test]
    fn nodes_sound_the_partials_of_their_string() {
        for ((partial, tenths, hundredths), node) in PARTIALS.into_iter().zip(Node::ALL) {
            let above = 12.0 * libm::log2(f64::from(partial)) - f64::from(node.above_open().semitones());
            assert_eq!(libm::round(above * 1000.0) as i32, tenths, "{node:?}");
            // The nearest of the points that divide the string into so many parts.
            let places = (1..partial).map(|part| {
                let left = 1.0 - f64::from(part) / f64::from(partial);
                libm::round(-1200.0 * libm::log2(left)) as i32
            });
            let fret = 100 * i32::from(node.fret().number());
            assert_eq!(places.min_by_key(|place| (place - fret).abs()), Some(hundredths), "{node:?}");
        }
    }
}
