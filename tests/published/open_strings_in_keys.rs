//! How many of the six open strings of standard tuning belong to each major key.
//!
//! Source: counted from the scales (E A D G B E against seven notes); handbooks give the same keys as the open ones.

use handspan_core::harmony::{Key, Mode};
use handspan_core::neck::Tuning;
use handspan_core::spelling::{Spelling, Step};

/// Key, its fifths, open strings that belong to it.
const KEYS: [(&str, i8, usize); 12] = [
    ("C major", 0, 6),
    ("G major", 1, 6),
    ("D major", 2, 6),
    ("A major", 3, 5),
    ("E major", 4, 4),
    ("B major", 5, 3),
    ("F# major", 6, 1),
    ("Db major", -5, 0),
    ("Ab major", -4, 1),
    ("Eb major", -3, 2),
    ("Bb major", -2, 3),
    ("F major", -1, 5),
];

#[test]
fn open_strings_belong_to_their_keys() {
    for (name, fifths, count) in KEYS {
        let key = Key::try_new(fifths, Mode::Major).unwrap();
        assert_eq!(key.to_string(), name);
        let scale = Step::ALL.map(|step| Spelling::new(step, key.accidental_of(step)).class());
        let standard = Tuning::standard();
        let belonging = standard.open_strings().iter().filter(|pitch| scale.contains(&pitch.class()));
        assert_eq!(belonging.count(), count, "{name}");
    }
}
