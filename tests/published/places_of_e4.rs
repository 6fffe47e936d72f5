//! At how many places E4 (MIDI 64) sounds, the open first string counted.
//!
//! Sources: on 14 frets, Radicioni and Lombardo 2005; on 24 frets, Burlet and Fujinaga 2013.

use handspan_core::pitch::Pitch;

use super::guitar;

const PLACES: [(u8, usize); 2] = [(14, 4), (24, 6)];

#[test]
fn e4_has_its_places() {
    for (frets, places) in PLACES {
        assert_eq!(guitar(frets).places(Pitch::new(64)).count(), places, "{frets} frets");
    }
}
