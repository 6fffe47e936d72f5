//! The tunes: one that shows every sign, one in six eighths, short values, many pages, and absurd ones.

use handspan_core::arrangement::Score;
use handspan_core::neck::{Instrument, Tuning};
use handspan_core::pitch::Pitch;
use handspan_core::time::{Metre, Ticks};
use handspan_core::tune::{Bar, ChordAt, Ending, Jump};

use super::{Beat, Writer, chord};

fn ending(pass: u8) -> Ending {
    Ending { passes: vec![pass] }
}

/// Twenty bars in four: repeats, endings, a coda, ties, triplets of no kind, dotted figures.
#[expect(clippy::too_many_lines, reason = "a tune is read as a whole")]
pub(crate) fn evening() -> Score {
    let eight = |w: Writer| {
        w.bar(
            &[(0, "Cmaj7"), (8, "A7b9")],
            &[
                Beat(6, &[(1, 0, 0, 'a'), (2, 0, 0, 'm'), (3, 0, 0, 'i'), (4, 2, 2, 'p'), (5, 3, 3, 'p')], 8),
                Beat(2, &[(1, 3, 4, 'm')], 0),
                Beat(4, &[(2, 2, 2, 'm'), (3, 3, 4, 'i'), (5, 0, 0, 'p')], 8),
                Beat(2, &[(2, 2, 2, 'm')], 0),
                Beat(2, &[(2, 3, 3, 'a')], 0),
            ],
        )
        .bar(
            &[(0, "Dm9"), (8, "G13")],
            &[
                Beat(8, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 2, 3, 'i'), (4, 0, 0, 'p')], 8),
                Beat(8, &[(1, 0, 0, 'a'), (3, 4, 4, 'm'), (4, 3, 2, 'i'), (6, 3, 3, 'p')], 8),
            ],
        )
        .bar(
            &[(0, "Em7"), (8, "Ebdim7")],
            &[
                Beat(2, &[(2, 3, 4, 'a'), (3, 0, 0, 'm'), (4, 0, 0, 'i'), (6, 0, 0, 'p')], 8),
                Beat(2, &[(2, 0, 0, 'm')], 0),
                Beat(2, &[(2, 1, 1, 'i')], 0),
                Beat(2, &[(2, 3, 4, 'm')], 0),
                Beat(8, &[(2, 1, 1, 'a'), (3, 2, 2, 'm'), (4, 1, 1, 'i')], 8),
            ],
        )
    };
    let four = Metre::COMMON;
    let w = Writer::new("An Evening at the Weir", four, 0).tempo(112);
    let w = eight(w);
    let w = w
        .bar(
            &[(0, "Dm7b5/Ab"), (8, "G7#9")],
            &[
                Beat(3, &[(1, 1, 1, 'a'), (2, 1, 1, 'm'), (3, 1, 1, 'i'), (6, 4, 4, 'p')], 8),
                Beat(1, &[(1, 0, 0, 'm')], 0),
                Beat(4, &[(2, 3, 4, 'a')], 0),
                Beat(6, &[(2, 0, 0, 'a'), (3, 3, 2, 'm'), (4, 3, 3, 'i'), (6, 3, 1, 'p')], 8),
                Beat(2, &[], 0),
            ],
        )
        .mark(|b| {
            b.ending = Some(ending(1));
            b.ending_stops = true;
            b.repeat_end = Some(2);
        })
        .bar(
            &[(0, "C6/9")],
            &[Beat(
                16,
                &[(1, 3, 4, 'a'), (2, 3, 3, 'm'), (3, 2, 1, 'i'), (4, 2, 1, 'p'), (5, 3, 2, 'p')],
                16,
            )],
        )
        .tied(8)
        .mark(|b| {
            b.ending = Some(ending(2));
            b.ending_stops = true;
        })
        .bar(
            &[(8, "F#m7b5")],
            &[
                Beat(8, &[], 0),
                Beat(4, &[(1, 5, 4, 'a'), (3, 2, 2, 'm'), (4, 2, 3, 'i'), (6, 2, 1, 'p')], 8),
                Beat(4, &[(1, 3, 2, 'm')], 0),
            ],
        )
        .mark(|b| {
            b.section = Some("Bridge".to_owned());
            b.segno = true;
        });
    let w = eight(w);
    let w = w
        .bar(
            &[(0, "Bbmaj7#11"), (8, "Am7")],
            &[
                Beat(4, &[(1, 8, 4, 'a'), (2, 10, 4, 'm'), (3, 7, 1, 'i'), (4, 8, 2, 'p')], 8),
                Beat(4, &[(1, 7, 1, 'm')], 0),
                Beat(4, &[(1, 5, 1, 'a'), (2, 5, 1, 'm'), (3, 5, 1, 'i'), (4, 5, 1, 'p'), (6, 5, 1, 'p')], 8),
                Beat(2, &[(1, 8, 4, 'm')], 0),
                Beat(2, &[(1, 5, 1, 'i')], 0),
            ],
        )
        .mark(|b| b.to_coda = true);
    let w = eight(w);
    let w = w
        .bar(&[(0, "N.C.")], &[Beat(8, &[(1, 0, 0, 'a')], 0), Beat(8, &[], 0)])
        .mark(|b| b.jump = Some(Jump::DalSegno))
        .bar(
            &[(0, "F"), (8, "Fm6")],
            &[
                Beat(8, &[(1, 1, 1, 'a'), (2, 1, 1, 'm'), (3, 2, 2, 'i'), (4, 3, 3, 'p')], 8),
                Beat(8, &[(1, 1, 1, 'a'), (2, 3, 4, 'm'), (3, 1, 1, 'i'), (4, 3, 3, 'p')], 8),
            ],
        )
        .mark(|b| {
            b.section = Some("Coda".to_owned());
            b.coda = true;
        });
    eight(w)
        .bar(
            &[(0, "C")],
            &[Beat(
                16,
                &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 0, 0, 'i'), (4, 2, 2, 'p'), (5, 3, 3, 'p')],
                16,
            )],
        )
        .score()
}

/// Eight bars of six eighths with a pickup.
pub(crate) fn ferry() -> Score {
    let six = Metre::try_new(6, 8).unwrap();
    let verse = |w: Writer| {
        w.bar(
            &[(0, "D"), (6, "A7/C#")],
            &[
                Beat(2, &[(1, 2, 2, 'a'), (3, 2, 1, 'i'), (4, 0, 0, 'p')], 6),
                Beat(2, &[(1, 0, 0, 'm')], 0),
                Beat(2, &[(2, 3, 3, 'i')], 0),
                Beat(4, &[(1, 0, 0, 'a'), (3, 0, 0, 'i'), (5, 4, 4, 'p')], 6),
                Beat(2, &[(2, 3, 3, 'm')], 0),
            ],
        )
        .bar(
            &[(0, "Bm"), (6, "G6")],
            &[
                Beat(3, &[(2, 3, 4, 'a'), (3, 4, 3, 'i'), (5, 2, 1, 'p')], 6),
                Beat(1, &[(2, 2, 1, 'm')], 0),
                Beat(2, &[(2, 0, 0, 'i')], 0),
                Beat(6, &[(2, 0, 0, 'a'), (3, 0, 0, 'm'), (4, 2, 2, 'i'), (6, 3, 3, 'p')], 6),
            ],
        )
    };
    let mut w = Writer::new("The Ferry Turns", six, 2).tempo(84).bar(&[], &[Beat(2, &[(2, 3, 3, 'm')], 0)]);
    w = w.mark(|b| "0".clone_into(&mut b.number));
    for _ in 0..4 {
        w = verse(w);
    }
    w.mark(|b| b.fine = true).score()
}

/// Six bars of triplets, short values, dotted rests and an instrument of seven strings in another tuning, with a capo.
pub(crate) fn crossing() -> Score {
    let mut w = Writer::new("Crossing the Lock", Metre::COMMON, -3).tempo(72);
    let tuning = Tuning::from_low_to_high("seven strings", [35, 40, 45, 50, 55, 59, 64].map(Pitch::new));
    w.instrument = Instrument::try_new(tuning, 19, Instrument::CLASSICAL_SCALE, 2).unwrap();
    for _ in 0..3 {
        w = w
            .bar(
                &[(0, "Bbmaj7#11"), (4, "Am7"), (8, "Dm7b5/Ab"), (12, "G7#9")],
                &[
                    Beat(1, &[(1, 12, 4, 'a'), (2, 10, 1, 'm'), (7, 10, 2, 'p')], 4),
                    Beat(1, &[(1, 10, 1, 'm')], 0),
                    Beat(1, &[(2, 13, 4, 'i')], 0),
                    Beat(1, &[(2, 11, 2, 'm')], 0),
                    Beat(3, &[(1, 8, 1, 'a'), (3, 9, 2, 'i'), (7, 8, 1, 'p')], 4),
                    Beat(1, &[(1, 10, 3, 'm')], 0),
                    Beat(1, &[], 0),
                    Beat(3, &[(1, 12, 4, 'a'), (4, 10, 2, 'p')], 4),
                    Beat(
                        4,
                        &[
                            (1, 10, 1, 'a'),
                            (2, 10, 1, 'm'),
                            (3, 10, 1, 'i'),
                            (4, 10, 1, 'p'),
                            (7, 11, 2, 'p'),
                        ],
                        4,
                    ),
                ],
            )
            .triplets();
    }
    w.score()
}

/// Forty-eight bars over several pages.
pub(crate) fn long_walk() -> Score {
    walk(48)
}

/// As many bars as are wanted.
pub(crate) fn walk(bars: usize) -> Score {
    let mut w = Writer::new("The Long Walk Round", Metre::try_new(3, 4).unwrap(), 1).tempo(138);
    for bar in 0..bars {
        w = w.bar(
            &[(0, ["G6", "Em7", "Am7", "D7"][bar % 4])],
            &[
                Beat(4, &[(1, 3, 4, 'a'), (3, 0, 0, 'm'), (4, 0, 0, 'i'), (6, 3, 3, 'p')], 12),
                Beat(2, &[(2, 3, 4, 'm')], 0),
                Beat(2, &[(2, 1, 1, 'i')], 0),
                Beat(4, &[(2, 0, 0, 'm')], 0),
            ],
        );
        if bar % 16 == 0 {
            w = w.mark(|b| b.section = Some(format!("Part {}", bar / 16 + 1)));
        }
    }
    w.score()
}

/// Changes of key towards and away from C, voices that meet on one note and a step apart, a bass that rings under
/// what is struck after it, a barre that stays over two bars.
pub(crate) fn turning() -> Score {
    let bar = |w: Writer| {
        w.bar(
            &[(0, "A7")],
            &[
                Beat(4, &[(1, 5, 1, 'a'), (2, 5, 1, 'm'), (3, 6, 2, 'i'), (5, 0, 0, 'p')], 12),
                Beat(4, &[(1, 5, 1, 'm'), (2, 10, 4, 'i')], 4),
                Beat(4, &[(2, 8, 4, 'm'), (3, 11, 3, 'i')], 4),
                Beat(4, &[(2, 6, 2, 'm')], 4),
            ],
        )
        .bar(
            &[(0, "D7")],
            &[
                Beat(8, &[(1, 5, 1, 'a'), (2, 7, 3, 'm'), (3, 5, 1, 'i'), (4, 0, 0, 'p')], 16),
                Beat(8, &[(1, 2, 1, 'm'), (3, 7, 2, 'i')], 8),
            ],
        )
    };
    let keys = [3, 1, -2, 0, -4];
    let mut w = Writer::new("Turning Back", Metre::COMMON, keys[0]);
    for key in keys {
        w = bar(w.key(key));
    }
    w.score()
}

/// A melody alone: quarters below, on and above the middle line, then eighths that rise, fall and bend.
pub(crate) fn rules() -> Score {
    Writer::new("By the Book", Metre::COMMON, 0)
        .bar(&[], &[(4, 2), (2, 0), (1, 0), (1, 5)].map(|(string, fret)| Beat(4, one(string, fret), 0)))
        .bar(
            &[],
            &[(2, 1), (2, 3), (1, 0), (1, 1), (1, 3), (2, 0), (2, 1), (1, 3)]
                .map(|(string, fret)| Beat(2, one(string, fret), 0)),
        )
        .bar(&[], &[Beat(6, one(1, 3), 0), Beat(2, one(1, 1), 0), Beat(8, one(2, 0), 0)])
        .score()
}

/// A melody and an inner note on one head over a dotted bass, then a section with a chord of three accidentals.
pub(crate) fn meeting() -> Score {
    Writer::new("At the Bridge", Metre::try_new(3, 4).unwrap(), 0)
        .bar(&[], &[Beat(12, &[(1, 0, 0, 'a'), (2, 5, 4, 'm'), (5, 0, 0, 'p')], 12)])
        .bar(&[], &[Beat(12, &[(2, 2, 1, 'm'), (3, 3, 2, 'i'), (4, 4, 3, 'p')], 12)])
        .mark(|b| b.section = Some("Under It".to_owned()))
        .score()
}

/// Ties over bar lines: of a melody alone below and above the middle line, of two voices, and of a chord alone.
pub(crate) fn held() -> Score {
    let silent = |length| Beat(length, &[], 0);
    Writer::new("Let It Ring", Metre::COMMON, 0)
        .bar(&[], &[Beat(16, one(3, 0), 0)])
        .tied(8)
        .bar(&[], &[silent(8), Beat(8, one(1, 1), 0)])
        .tied(4)
        .bar(
            &[],
            &[silent(4), Beat(12, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 0, 0, 'i'), (5, 3, 3, 'p')], 28)],
        )
        .tied(16)
        .bar(&[], &[silent(16)])
        .bar(
            &[],
            &[Beat(8, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 0, 0, 'i'), (5, 3, 3, 'p')], 32), silent(8)],
        )
        .bar(&[], &[silent(16)])
        .score()
}

/// Eighths in pairs and fours, then sixteenths: what beams have to do with.
pub(crate) fn beams() -> Score {
    let bar = |w: Writer, length: i64, notes: &[(u8, u8)]| {
        let beats: Vec<Beat> =
            notes.iter().map(|(string, fret)| Beat(length, one(*string, *fret), 0)).collect();
        w.bar(&[], &beats)
    };
    let w = Writer::new("Under One Roof", Metre::try_new(3, 4).unwrap(), 0);
    // G A, A G, F A; A F, then E F and F D above the middle line.
    let w = bar(w, 2, &[(3, 0), (3, 2), (3, 2), (3, 0), (4, 3), (3, 2)]);
    let mut w = bar(w, 2, &[(3, 2), (4, 3), (1, 0), (1, 1), (1, 1), (2, 3)]);
    w.metre = Metre::COMMON;
    // E A E A, then E A G F.
    let w = bar(w, 2, &[(4, 2), (3, 2), (4, 2), (3, 2), (4, 2), (3, 2), (3, 0), (4, 3)]);
    // F E F G, E E F G, E G A B, and F E F G above.
    let low =
        [(4, 3), (4, 2), (4, 3), (3, 0), (4, 2), (4, 2), (4, 3), (3, 0), (4, 2), (3, 0), (3, 2), (2, 0)];
    let high = [(1, 1), (1, 0), (1, 1), (1, 3)];
    bar(w, 1, &[&low[..], &high[..]].concat()).score()
}

/// A stroke of one note without fingers.
fn one(string: u8, fret: u8) -> &'static [super::Stroke] {
    const PLAIN: [[super::Stroke; 1]; 24] = plain();
    &PLAIN[usize::from(string - 1) * 6 + usize::from(fret)]
}

const fn plain() -> [[super::Stroke; 1]; 24] {
    let mut strokes = [[(1, 0, 0, ' ')]; 24];
    let mut index = 0;
    while index < 24 {
        strokes[index][0] = (1 + index as u8 / 6, index as u8 % 6, 0, ' ');
        index += 1;
    }
    strokes
}

/// A whole note, halves, quarters, eighths and sixteenths, each a bar of its own, with nothing beside them.
pub(crate) fn ladder() -> Score {
    let mut w = Writer::new("Rungs", Metre::COMMON, 0);
    for _ in 0..2 {
        w = w
            .bar(&[], &[8, 4, 4].map(|length| Beat(length, one(2, 1), 0)))
            .bar(&[], &[4, 4, 2, 2, 2, 2].map(|length| Beat(length, one(2, 1), 0)))
            .bar(&[], &[8, 2, 2, 1, 1, 1, 1].map(|length| Beat(length, one(2, 1), 0)))
            .bar(&[], &[12, 4].map(|length| Beat(length, one(2, 1), 0)));
    }
    w.score()
}

/// Notes struck together and let go one after the other: two lengths under the melody, then three.
pub(crate) fn voices() -> Score {
    let bar = |w: Writer| {
        w.bar(
            &[(0, "C")],
            &[
                Beat(4, &[(1, 0, 0, 'a'), (2, 1, 1, 'm'), (3, 0, 0, 'i'), (5, 3, 3, 'p')], 16),
                Beat(4, &[(1, 3, 4, 'a')], 0),
                Beat(8, &[(1, 0, 0, 'a')], 0),
            ],
        )
    };
    let w = bar(Writer::new("Let Go", Metre::COMMON, 0)).ringing(3, 8);
    bar(w).ringing(3, 8).ringing(2, 4).score()
}

/// One bar under a title.
pub(crate) fn titled(title: &str) -> Score {
    Writer::new(title, Metre::COMMON, 0)
        .bar(&[(0, "C")], &[Beat(16, &[(2, 1, 1, 'i'), (5, 3, 3, 'p')], 16)])
        .score()
}

/// A bar of sixty-four strokes on ten strings, and a title longer than any line.
pub(crate) fn crowded(strings: u8) -> Score {
    let mut w = Writer::new(&"Everything at Once and Then Again ".repeat(8), Metre::COMMON, 7);
    let open = (0..strings).map(|string| Pitch::new(30 + 4 * string));
    let tuning = Tuning::from_low_to_high("by thirds", open);
    w.instrument = Instrument::try_new(tuning, 24, Instrument::CLASSICAL_SCALE, 5).unwrap();
    let bar = Bar {
        section: Some("A Section With a Long Name".to_owned()),
        ..Bar::plain("X1", w.metre.bar(), w.metre, w.key)
    };
    w.parts.bars.push(bar);
    for stroke in 0..64 {
        let length = Ticks::from_quarter_parts(1, 16).unwrap();
        for string in 1..=strings {
            w.stroke((string, 19, 1 + string % 4, 'p'), string == 1, length);
        }
        if stroke % 4 == 0 {
            w.parts.chords.push(ChordAt { at: w.at, symbol: chord("Bbmaj7#11") });
        }
        w.at += length;
    }
    w.score()
}

/// Five notes in a time of eleven, which no notation has a value for.
pub(crate) fn unwritable() -> Score {
    let mut w = Writer::new("", Metre::COMMON, 0);
    w.parts.bars.push(Bar::plain("1", w.metre.bar(), w.metre, w.key));
    for length in [7_331, 7_331, 1, 977, 40_000] {
        w.stroke((1, 3, 0, 'm'), true, Ticks::new(length));
        w.at += Ticks::new(length);
    }
    w.score()
}

/// Two bars of twelve eighths and one of two quarters, a repeat at its beginning.
pub(crate) fn jig() -> Score {
    let mut w = Writer::new("Twelve to the Bar", Metre::try_new(12, 8).unwrap(), 3).tempo(150);
    for _ in 0..2 {
        w = w.bar(
            &[(0, "A"), (12, "D6")],
            &[
                Beat(6, &[(1, 0, 0, 'a'), (2, 2, 3, 'm'), (3, 2, 2, 'i'), (5, 0, 0, 'p')], 12),
                Beat(4, &[(2, 2, 3, 'm')], 0),
                Beat(2, &[(2, 0, 0, 'i')], 0),
                Beat(12, &[(1, 2, 1, 'a'), (2, 0, 0, 'm'), (3, 2, 2, 'i'), (4, 0, 0, 'p')], 12),
            ],
        );
    }
    w.metre = Metre::try_new(2, 4).unwrap();
    w.bar(&[(0, "A")], &[Beat(8, &[(1, 0, 0, 'a'), (3, 2, 1, 'i'), (5, 0, 0, 'p')], 8)])
        .mark(|b| {
            b.repeat_start = true;
            b.repeat_end = Some(2);
        })
        .score()
}

/// Triplets in the melody, and below them a bass for two beats and an inner note for a third of them.
pub(crate) fn thirds() -> Score {
    let mut w = Writer::new("Three for Two", Metre::COMMON, 0).triplets();
    w.at = Ticks::QUARTER * 2;
    w.stroke((5, 3, 3, 'p'), false, Ticks::QUARTER * 2);
    w.stroke((3, 4, 2, 'i'), false, Ticks::from_quarter_parts(2, 3).unwrap());
    w.score()
}

/// A dotted bass, a short inner note and the melody struck at once.
pub(crate) fn aside() -> Score {
    let struck = &[(1, 3, 4, 'm'), (4, 2, 2, 'i'), (5, 3, 3, 'p')];
    let w = Writer::new("Aside", Metre::COMMON, 0);
    w.bar(&[], &[Beat(6, struck, 6), Beat(10, &[], 0)]).ringing(4, 2).score()
}
