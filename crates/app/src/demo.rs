//! The tune that the window opens with.

use std::sync::Arc;

use handspan_core::arrangement::Work;
use handspan_core::harmony::{Chord, ChordSymbol, Key, Kind, Mode};
use handspan_core::pitch::Pitch;
use handspan_core::plan::Plan;
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, ChordAt, MelodyNote, Tune, TuneParts};

/// The demo tune with nothing decided yet.
pub fn work() -> Work {
    let key = Key::try_new(1, Mode::Major).expect("one sharp is a key");
    let bar = |n: i64| Bar::plain((n + 1).to_string(), Ticks::QUARTER * 4, Metre::COMMON, key);
    let phrase: [(i64, i64, u8); 12] = [
        (0, 2, 71),
        (2, 1, 74),
        (3, 1, 72),
        (4, 2, 71),
        (6, 2, 67),
        (8, 1, 69),
        (9, 1, 71),
        (10, 2, 72),
        (12, 2, 74),
        (14, 1, 71),
        (15, 1, 67),
        (16, 4, 69),
    ];
    let mut melody = Vec::new();
    let mut chords = Vec::new();
    for round in 0..6 {
        for (at, length, midi) in phrase {
            let pitch = Pitch::new(midi + if round % 3 == 2 { 5 } else { 0 });
            melody.push(MelodyNote {
                at: Ticks::QUARTER * (at / 1 + round * 20),
                length: Ticks::QUARTER * length,
                written: SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), 1)),
                tied_in: false,
                tied_out: false,
            });
        }
        for (n, fifths) in [1, 4, 3, 2, 1].into_iter().enumerate() {
            chords.push(ChordAt {
                at: Ticks::QUARTER * (4 * n as i64 + round * 20),
                symbol: ChordSymbol::Chord(Chord::plain(Spelling::from_fifths(fifths), Kind::MajorSeventh)),
            });
        }
    }
    let tune = Tune::try_new(TuneParts {
        title: "Lamplight on the Canal".to_owned(),
        composer: "A. Nobody".to_owned(),
        bars: (0..30).map(bar).collect(),
        melody,
        chords,
        tempi: Vec::new(),
    })
    .expect("a whole tune");
    Work {
        tune: Arc::new(tune),
        plan: Plan::default(),
    }
}
