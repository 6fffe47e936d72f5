//! Random arrangements: real bars, signs, chords and notes, whether or not a hand can play them.

use std::sync::Arc;

use handspan_core::arrangement::{Score, ScoreNote, ScoreTap, TapBy};
use handspan_core::demand::Part;
use handspan_core::hand::{Finger, RightFinger};
use handspan_core::harmony::{Chord, ChordSymbol, Degree, DegreeKind, Key, Kind, Mode};
use handspan_core::neck::{Fret, Instrument, Place, StringIndex, Touch, Tuning};
use handspan_core::spelling::{SpelledPitch, Spelling};
use handspan_core::time::{Metre, Tempo, Ticks};
use handspan_core::tune::{Bar, ChordAt, Ending, Jump, MelodyNote, TempoAt, Tune, TuneParts};
use proptest::prelude::*;

/// Lengths from a 32nd note to a tied one, among them triplets, a quintuplet and a septuplet.
const LENGTHS: [i64; 12] =
    [2520, 3360, 4032, 5040, 5760, 6720, 10_080, 13_440, 15_120, 20_160, 30_240, 75_600];

/// A note of a line: rest before it, length, string, fret, finger, right-hand finger, kind of
/// harmonic.
type Drawn = (usize, usize, usize, u8, usize, usize, u8);

fn drawn(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Drawn>> {
    prop::collection::vec(
        (0..30_usize, 0..12_usize, 0..6_usize, 0..13_u8, 0..5_usize, 0..6_usize, 0..4_u8),
        count,
    )
}

fn symbol() -> impl Strategy<Value = ChordSymbol> {
    let spelling = (-8..9_i32).prop_map(Spelling::from_fifths);
    let kind = prop::sample::select(Kind::all().collect::<Vec<_>>());
    let degree_kind = prop::sample::select(vec![DegreeKind::Add, DegreeKind::Alter, DegreeKind::Subtract]);
    let degree =
        (1..14_u8, -2..3_i8, degree_kind).prop_map(|(number, alter, kind)| Degree { number, alter, kind });
    let chord = (
        spelling.clone(),
        kind,
        prop::collection::vec(degree, 0..3),
        prop::option::of(spelling),
        prop::option::of("[a-zA-Z0-9♭♯&<>\"' ()]{1,6}"),
    );
    chord.prop_map(|(root, kind, degrees, bass, printed)| {
        ChordSymbol::Chord(Chord { root, kind, degrees, bass, printed })
    })
}

fn bar() -> impl Strategy<Value = Bar> {
    let metre = prop::sample::select(vec![(4, 4), (3, 4), (6, 8), (5, 8), (2, 2), (12, 8)]);
    let key = (-7..8_i8, any::<bool>());
    let section = prop::option::weighted(0.1, "[A-Z][a-z]{0,5}");
    (metre, key, section, any::<[bool; 7]>(), 0..40_u8).prop_map(
        |((beats, unit), (fifths, minor), section, marks, rare)| {
            let metre = Metre::try_new(beats, unit).unwrap();
            let key = Key::try_new(fifths, if minor { Mode::Minor } else { Mode::Major }).unwrap();
            let mut bar = Bar::plain("", metre.bar(), metre, key);
            bar.section = section;
            bar.repeat_start = rare == 1;
            bar.repeat_end = [None, None, Some(2), Some(3)].get(usize::from(rare)).copied().flatten();
            bar.ending = (rare == 4).then(|| Ending { passes: vec![1, 3] });
            bar.ending_stops = rare == 5;
            bar.segno = rare == 6;
            bar.coda = rare == 7;
            bar.to_coda = rare == 8 && marks[0];
            bar.fine = rare == 9;
            bar.jump =
                [Some(Jump::DaCapo), Some(Jump::DalSegno)][usize::from(marks[1])].filter(|_| rare == 10);
            if rare == 11 {
                bar.length += Ticks::new(5040);
            }
            bar
        },
    )
}

pub(crate) fn instrument() -> impl Strategy<Value = Instrument> {
    (0..Tuning::COMMON.len(), 0..6_u8, 19..25_u8).prop_map(|(tuning, capo, frets)| {
        let tuning = Tuning::named(Tuning::COMMON[tuning].0).unwrap();
        Instrument::try_new(tuning, frets, Instrument::CLASSICAL_SCALE, capo).unwrap()
    })
}

/// The next time at which playing may go on elsewhere; no note is held across it.
fn next_seam(bars: &[Bar], at: Ticks) -> Option<Ticks> {
    let mut end = Ticks::ZERO;
    for (index, bar) in bars.iter().enumerate() {
        end += bar.length;
        let seam = bar.leaves() || bars.get(index + 1).is_none_or(Bar::is_entered);
        if end > at && seam {
            return Some(end);
        }
    }
    None
}

/// Notes that follow one another without overlap, from the beginning to the end of the bars.
fn line(drawn: &[Drawn], part: Part, bars: &[Bar], instrument: &Instrument, fifths: i32) -> Vec<ScoreNote> {
    let mut now = Ticks::ZERO;
    let mut notes = Vec::new();
    for (rest, length, string, fret, finger, pluck, harmonic) in drawn {
        let rest = LENGTHS.get(*rest).filter(|_| now > Ticks::ZERO);
        let at = now + rest.map_or(Ticks::ZERO, |rest| Ticks::new(*rest));
        let Some(limit) = next_seam(bars, at) else { break };
        let length = Ticks::new(LENGTHS[*length]).min(limit - at);
        now = at + length;
        let place = Place { string: StringIndex::new(*string), fret: Fret::new(*fret) };
        // Every third note is a harmonic where its place has one.
        let touch = [Touch::Plain, Touch::Plain, Touch::Natural, Touch::Artificial][usize::from(*harmonic)];
        let harmonic = instrument.sounding_by(place, touch);
        let touch = harmonic.map_or(Touch::Plain, |_| touch);
        let pitch = instrument.sounding_by(place, touch).unwrap();
        notes.push(ScoreNote {
            at,
            length,
            written: SpelledPitch::new(pitch, Spelling::of_class_in(pitch.class(), fifths)),
            place,
            touch,
            finger: Finger::FOUR.get(*finger).copied().filter(|_| *fret > 0),
            pluck: RightFinger::ALL.get(*pluck).copied(),
            part,
            tied_in: false,
            tied_out: false,
        });
    }
    notes
}

/// Taps where a line has notes.
fn taps(notes: &[ScoreNote]) -> Vec<ScoreTap> {
    let by = |note: &ScoreNote| if note.finger.is_some() { TapBy::Thumb } else { TapBy::Hand };
    notes.iter().map(|note| ScoreTap { at: note.at, length: note.length, by: by(note) }).collect()
}

fn melody(notes: &[ScoreNote]) -> Vec<MelodyNote> {
    notes
        .iter()
        .filter(|note| note.part == Part::Melody)
        .map(|note| MelodyNote {
            at: note.at,
            length: note.length,
            written: note.written,
            tied_in: note.tied_in,
            tied_out: note.tied_out,
        })
        .collect()
}

prop_compose! {
    pub(crate) fn score()(
        mut bars in prop::collection::vec(bar(), 1..12),
        instrument in instrument(),
        lines in (drawn(1..40), drawn(0..30), drawn(0..20), drawn(0..20), drawn(0..20)),
        symbols in prop::collection::vec((symbol(), any::<prop::sample::Index>()), 0..8),
        tempi in prop::collection::vec((10..501_u16, any::<prop::sample::Index>()), 0..3),
        title in "([A-Za-z<&'é♭][A-Za-z<&'é♭ ]{0,10}[a-z])?",
        fifths in -6..7_i32,
    ) -> Score {
        for (index, bar) in bars.iter_mut().enumerate() {
            bar.number = index.to_string();
        }
        let end: Ticks = bars.iter().map(|bar| bar.length).sum();
        let mut notes = line(&lines.0, Part::Melody, &bars, &instrument, fifths);
        notes.extend(line(&lines.1, Part::Bass, &bars, &instrument, fifths));
        notes.extend(line(&lines.2, Part::Inner, &bars, &instrument, fifths));
        notes.extend(line(&lines.3, Part::Inner, &bars, &instrument, fifths));
        notes.sort_by_key(|note| (note.at, note.place.string));
        let taps = taps(&line(&lines.4, Part::Inner, &bars, &instrument, fifths));
        let within = |index: prop::sample::Index| Ticks::new(index.index((end.count() / 2520) as usize) as i64 * 2520);
        let mut tempi: Vec<TempoAt> = tempi
            .into_iter()
            .map(|(tempo, at)| TempoAt { at: within(at), tempo: Tempo::try_new(tempo).unwrap() })
            .collect();
        tempi.sort_by_key(|tempo| tempo.at);
        tempi.dedup();
        let parts = TuneParts {
            title,
            composer: "Nobody".into(),
            bars,
            melody: melody(&notes),
            chords: symbols.into_iter().map(|(symbol, at)| ChordAt { at: within(at), symbol }).collect(),
            tempi,
            ..TuneParts::default()
        };
        Score { tune: Arc::new(Tune::try_new(parts).unwrap()), instrument, notes, taps }
    }
}
