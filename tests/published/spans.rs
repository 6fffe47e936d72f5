//! How far two fingers of a medium hand reach along the neck, in millimetres: relaxed, comfortable, practical.
//!
//! Source: the span table of Parncutt, Sloboda, Clarke, Raekallio and Desain, "An ergonomic model of keyboard fingering
//! for melodic fragments", Music Perception 14 (1997), in semitones of a keyboard (2, 3, 5 for fingers 1 and 2, and so
//! on), read from a public re-implementation, at 13.75 mm a semitone; applied to the guitar by analogy, as Radicioni
//! and Lombardo did (Constraints 12, 2007).

use handspan_core::hand::{Finger, Hand};
use handspan_core::neck::geometry::Micrometres;

const SPANS: [(u8, u8, [f64; 3]); 6] = [
    (1, 2, [27.5, 41.25, 68.75]),
    (2, 3, [27.5, 27.5, 55.0]),
    (3, 4, [27.5, 41.25, 68.75]),
    (1, 3, [55.0, 68.75, 96.25]),
    (2, 4, [55.0, 68.75, 96.25]),
    (1, 4, [82.5, 110.0, 137.5]),
];

#[test]
fn a_medium_hand_reaches_as_the_table_says() {
    for (a, b, millimetres) in SPANS {
        let finger = |number| Finger::from_number(number).unwrap();
        for (a, b) in [(finger(a), finger(b)), (finger(b), finger(a))] {
            let span = Hand::default().span(a, b);
            let ours = [span.relaxed, span.comfortable, span.practical].map(Micrometres::millimetres);
            let same = ours.iter().zip(millimetres).all(|(ours, theirs)| (ours - theirs).abs() < 0.001);
            assert!(same, "fingers {a} and {b}: {ours:?}");
        }
    }
}
