//! A tune of harmonics: natural ones of every value, in chords and over stopped notes, and artificial ones. Another of
//! taps.

use handspan_core::arrangement::{Score, TapBy};
use handspan_core::neck::Touch::{Artificial, Natural};
use handspan_core::time::Metre;

use super::{Beat, Writer};

/// Four bars in four.
pub(crate) fn ripples() -> Score {
    Writer::new("Ripples", Metre::COMMON, 1)
        .tempo(66)
        .bar(
            &[(0, "G")],
            &[Beat(16, &[(2, 12, 4, 'a'), (3, 12, 4, 'm'), (4, 12, 4, 'i'), (6, 3, 3, 'p')], 16)],
        )
        .harmonic(2, Natural)
        .harmonic(3, Natural)
        .harmonic(4, Natural)
        .bar(
            &[(0, "Em7")],
            &[Beat(8, &[(1, 7, 1, 'a'), (6, 0, 0, 'p')], 16), Beat(8, &[(2, 7, 1, 'm'), (3, 2, 2, 'i')], 8)],
        )
        .harmonic(1, Natural)
        .harmonic(2, Natural)
        .bar(
            &[(0, "D7")],
            &[
                Beat(3, &[(3, 5, 1, 'a'), (4, 0, 0, 'p')], 16),
                Beat(1, &[(2, 5, 1, 'm')], 0),
                Beat(4, &[(1, 2, 1, 'a')], 0),
                Beat(8, &[(6, 3, 2, 'p')], 0),
            ],
        )
        .harmonic(3, Natural)
        .harmonic(2, Natural)
        .harmonic(1, Artificial)
        .harmonic(6, Artificial)
        .bar(
            &[(0, "G6")],
            &[Beat(4, &[(1, 12, 3, 'a')], 0), Beat(12, &[(2, 12, 3, 'a'), (6, 3, 1, 'p')], 12)],
        )
        .harmonic(2, Natural)
        .score()
}

/// Three bars with taps: among plucked notes, in rests, over held notes.
pub(crate) fn knocks() -> Score {
    Writer::new("Knocks on the Hull", Metre::COMMON, -1)
        .tempo(96)
        .bar(
            &[(0, "Dm")],
            &[
                Beat(4, &[(1, 1, 1, 'a'), (4, 0, 0, 'p')], 8),
                Beat(4, &[(1, 1, 1, 'm'), (2, 3, 3, 'i')], 4),
                Beat(2, &[(1, 0, 0, 'a'), (4, 0, 0, 'p')], 8),
                Beat(2, &[(2, 3, 3, 'i')], 0),
                Beat(4, &[(2, 1, 1, 'm')], 0),
            ],
        )
        .taps(&[4, 12], TapBy::Thumb)
        .bar(&[(0, "Gm")], &[Beat(8, &[(2, 3, 4, 'a'), (6, 3, 3, 'p')], 16), Beat(8, &[], 0)])
        .taps(&[4, 10, 14], TapBy::Hand)
        .bar(&[(0, "Dm")], &[Beat(16, &[(3, 2, 2, 'm'), (4, 0, 0, 'p')], 16)])
        .taps(&[4, 6, 12], TapBy::Hand)
        .score()
}
