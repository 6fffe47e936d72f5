//! How many pitches a neck has, and at how many places: open strings counted.
//!
//! Source: counted for this project apart from the program (standard tuning: each string from its open pitch up).

use std::collections::BTreeSet;

use handspan_core::neck::{Fret, Place};

use super::guitar;

/// Frets, different pitches, places.
const COUNTS: [(u8, usize, usize); 3] = [(12, 37, 78), (19, 44, 120), (24, 49, 150)];

#[test]
fn necks_have_their_pitches_and_places() {
    for (frets, pitches, places) in COUNTS {
        let guitar = guitar(frets);
        let all: Vec<Place> = guitar
            .strings()
            .flat_map(|string| (0..=frets).map(move |f| Place { string, fret: Fret::new(f) }))
            .collect();
        let sounding: BTreeSet<_> = all.iter().filter_map(|place| guitar.sounding(*place)).collect();
        assert_eq!((sounding.len(), all.len()), (pitches, places), "{frets} frets");
        let found: usize = sounding.iter().map(|pitch| guitar.places(*pitch).count()).sum();
        assert_eq!(found, places, "places found from the pitches of {frets} frets");
    }
}
