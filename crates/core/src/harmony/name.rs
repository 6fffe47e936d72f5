//! What chord a set of notes is: the table of kinds read backwards.

use super::key::Key;
use super::kind::Kind;
use super::symbol::{Chord, Degree, DegreeKind};
use super::tones::ToneSet;
use crate::pitch::PitchClass;
use crate::spelling::Spelling;

/// A name for what sounds.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NamedChord {
    /// The chord, with what sounds lowest after the slash where that is not the root.
    pub chord: Chord,
    /// The tones of the chord that do not sound, the first to be left out first.
    pub omitted: Vec<PitchClass>,
}

/// Chords that players name and that are no kinds of their own in MusicXML 4.0 (common practice, no source): a kind
/// with the degrees that are added to it.
const WITH_DEGREES: [(Kind, &[Degree]); 18] = [
    (Kind::Major, &[ADD_9]),
    (Kind::Minor, &[ADD_9]),
    (Kind::MajorSixth, &[ADD_9]),
    (Kind::MinorSixth, &[ADD_9]),
    (Kind::SuspendedFourth, &[ADD_7]),
    (Kind::SuspendedFourth, &[ADD_7, ADD_9]),
    (Kind::SuspendedFourth, &[ADD_7, ADD_9, ADD_13]),
    (Kind::SuspendedSecond, &[ADD_7]),
    (Kind::Dominant, &[FLAT_9]),
    (Kind::Dominant, &[SHARP_9]),
    (Kind::Dominant, &[SHARP_11]),
    (Kind::Dominant, &[FLAT_13]),
    (Kind::Dominant, &[FLAT_5]),
    (Kind::DominantNinth, &[SHARP_11]),
    (Kind::Dominant13th, &[Degree::new(9, -1, DegreeKind::Alter)]),
    (Kind::MajorSeventh, &[SHARP_11]),
    (Kind::MajorMinor, &[ADD_9]),
    (Kind::HalfDiminished, &[Degree::new(11, 0, DegreeKind::Add)]),
];

const ADD_7: Degree = Degree::new(7, 0, DegreeKind::Add);
const ADD_9: Degree = Degree::new(9, 0, DegreeKind::Add);
const ADD_13: Degree = Degree::new(13, 0, DegreeKind::Add);
const FLAT_9: Degree = Degree::new(9, -1, DegreeKind::Add);
const SHARP_9: Degree = Degree::new(9, 1, DegreeKind::Add);
const SHARP_11: Degree = Degree::new(11, 1, DegreeKind::Add);
const FLAT_13: Degree = Degree::new(13, -1, DegreeKind::Add);
const FLAT_5: Degree = Degree::new(5, -1, DegreeKind::Alter);

/// A tone left out makes a name less likely by as much.
const OMITTED: usize = 2;
/// So does a chord tone in the bass that is not the root.
const INVERTED: usize = 1;
/// So does a bass that is no chord tone.
const FOREIGN_BASS: usize = 3;

/// The chords that a set of notes with its lowest note can be, the likeliest first; roots are spelled as in a key.
///
/// A name stands for all that sounds: its root is among the notes, every note is a tone of the chord or the bass, and
/// what is missing may be left out ([`Chord::omissible`]). Likelier is what leaves out less, then what has its root in
/// the bass, then what has the fewest tones, then the kind that comes first in the standard. One note alone is no
/// chord.
pub fn names(notes: ToneSet, bass: PitchClass, key: Key) -> Vec<NamedChord> {
    let mut found: Vec<(usize, usize, NamedChord)> = Vec::new();
    if notes.len() < 2 {
        return Vec::new();
    }
    for root in notes.iter() {
        for chord in chords_on(Spelling::of_class_in(root, i32::from(key.fifths()))) {
            found.extend(named(chord, notes, bass, key));
        }
    }
    // The order of roots and kinds breaks the ties that are left; sorting keeps it.
    found.sort_by_key(|(unlikely, tones, _)| (*unlikely, *tones));
    found.into_iter().map(|(.., name)| name).collect()
}

/// Every chord on a root: the kinds that have tones, then those with degrees.
fn chords_on(root: Spelling) -> impl Iterator<Item = Chord> {
    // A pedal is a single note, and the Tristan chord a half-diminished one whatever its spelling.
    let kinds = Kind::all().filter(|k| k.has_intervals() && !matches!(k, Kind::Pedal | Kind::Tristan));
    let plain = kinds.map(move |kind| Chord::plain(root, kind));
    let more = WITH_DEGREES
        .iter()
        .map(move |(kind, degrees)| Chord { degrees: degrees.to_vec(), ..Chord::plain(root, *kind) });
    plain.chain(more)
}

/// The chord as a name for the notes, with how unlikely it is and how many tones it has; none where it is no name.
fn named(chord: Chord, notes: ToneSet, bass: PitchClass, key: Key) -> Option<(usize, usize, NamedChord)> {
    let tones = chord.tones();
    let root = chord.root.class();
    let (mut upper, foreign) = (notes, !tones.contains(bass));
    if foreign {
        upper.remove(bass);
    }
    let missing = chord.omissible().into_iter().filter(|class| !upper.contains(*class)).collect::<Vec<_>>();
    if !tones.contains_all(upper) || !upper.contains_all(chord.required()) || upper.len() < 2 {
        return None;
    }
    let unlikely = OMITTED * missing.len()
        + match (foreign, bass == root) {
            (true, _) => FOREIGN_BASS,
            (_, true) => 0,
            (_, false) => INVERTED,
        };
    let slash = (bass != root).then(|| chord.spell(bass, key));
    let tones = tones.len() + chord.degrees.len();
    Some((unlikely, tones, NamedChord { chord: Chord { bass: slash, ..chord }, omitted: missing }))
}

impl Chord {
    /// What a class is above the root: `1`, `♭3`, `♯11`; a note that is no tone of the chord in round brackets, by the
    /// degree that it is nearest to.
    pub fn degree_name(&self, class: PitchClass) -> String {
        /// Semitones of the major scale, and the names of the twelve notes over a root.
        const MAJOR: [i16; 7] = [0, 2, 4, 5, 7, 9, 11];
        const FOREIGN: [&str; 12] = ["1", "♭2", "2", "♭3", "3", "4", "♭5", "5", "♭6", "6", "♭7", "7"];
        let tones = self.degree_semitones().into_iter();
        let mut of_class = tones.filter(|(_, semitones)| self.root.class() + *semitones == class);
        of_class.next().map_or_else(
            || format!("({})", FOREIGN[usize::from(class.above(self.root.class()))]),
            |(number, semitones)| {
                let zero_based = i16::from(number.max(1)) - 1;
                let natural = MAJOR[(zero_based % 7) as usize] + 12 * (zero_based / 7);
                let off = semitones.semitones() - natural;
                let sign = if off < 0 { "♭" } else { "♯" };
                format!("{}{number}", sign.repeat(usize::from(off.unsigned_abs())))
            },
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::harmony::ChordSymbol;

    fn chord(text: &str) -> Chord {
        ChordSymbol::parse(text).unwrap().chord().cloned().unwrap()
    }

    fn classes(notes: &str) -> Vec<PitchClass> {
        notes.split(' ').map(|note| Spelling::read(note).unwrap().0.class()).collect()
    }

    /// Names notes, the bass first.
    fn named(notes: &str) -> Vec<String> {
        let classes = classes(notes);
        let names = names(classes.iter().copied().collect(), classes[0], Key::default());
        names.iter().map(|name| name.chord.to_string()).collect()
    }

    #[track_caller]
    fn check(notes: &str, first: &str) {
        assert_eq!(named(notes).first().map(String::as_str), Some(first), "{notes}");
    }

    /// Full voicings that go by another name first: the spelling alone tells them apart.
    const EQUALS: [(Kind, &str); 1] = [(Kind::Tristan, "Cm7b5")];

    #[test]
    fn every_kind_is_named_as_itself_or_its_equal() {
        for kind in Kind::all().filter(|kind| kind.intervals().len() > 1) {
            let full = Chord::plain(Spelling::read("C").unwrap().0, kind);
            let names = names(full.tones(), full.root.class(), Key::default());
            let equal = EQUALS.iter().find(|(k, _)| *k == kind).map(|(_, name)| (*name).to_owned());
            let expected = equal.unwrap_or_else(|| full.to_string());
            assert_eq!(names[0].chord.to_string(), expected, "{kind:?}");
            assert_eq!(names[0].omitted, [], "{kind:?}");
        }
    }

    #[test]
    fn every_inversion_still_has_its_name() {
        for kind in Kind::all().filter(|kind| kind.intervals().len() > 1 && *kind != Kind::Tristan) {
            let full = Chord::plain(Spelling::read("C").unwrap().0, kind);
            for bass in full.tones().iter().filter(|bass| *bass != full.root.class()) {
                let found = names(full.tones(), bass, Key::default());
                let slashed = Chord { bass: Some(full.spell(bass, Key::default())), ..full.clone() };
                let is_there = found.iter().any(|name| name.chord == slashed && name.omitted.is_empty());
                assert!(is_there, "{slashed}");
            }
        }
    }

    #[test]
    fn a_chord_without_what_may_go_still_has_its_name() {
        for kind in Kind::all().filter(|kind| kind.has_intervals() && *kind != Kind::Tristan) {
            let full = Chord::plain(Spelling::read("C").unwrap().0, kind);
            for class in full.omissible() {
                let mut tones = full.tones();
                tones.remove(class);
                let found = names(tones, full.root.class(), Key::default());
                let is_there = found.iter().any(|name| name.chord == full && name.omitted == [class]);
                assert!(is_there, "{full} without {class}");
            }
        }
    }

    #[test]
    fn no_name_leaves_out_a_note() {
        for bits in 1_u16..4096 {
            let notes: ToneSet =
                PitchClass::ALL.into_iter().filter(|c| bits & (1 << c.number()) != 0).collect();
            let bass = notes.iter().next().unwrap();
            for name in names(notes, bass, Key::default()) {
                let mut whole = name.chord.tones();
                for class in &name.omitted {
                    whole.remove(*class);
                }
                assert_eq!(whole, notes, "{} of {notes:?}", name.chord);
            }
        }
    }

    #[test]
    fn what_is_lowest_decides_between_equals() {
        check("A C E G", "Am7");
        check("C E G A", "C6");
        assert!(named("A C E G").contains(&"C6/A".to_owned()));
        check("B D F A", "Bm7b5");
        check("D F A B", "Dm6");
        check("C D G", "Csus2");
        check("G C D", "Gsus4");
        check("B D F G#", "Bdim7");
    }

    #[test]
    fn chords_of_every_day() {
        check("E G C", "C/E");
        check("C E Bb", "C7");
        check("C G", "C5");
        check("C E G D", "Cadd9");
        check("G C D F", "G7sus4");
        check("G B D F Ab", "G7b9");
        check("E G# B D G", "E7#9");
        check("D C E G", "Cadd9/D");
        check("A F C E", "Fmaj7/A");
        check("D G B", "G/D");
        check("F# C E G", "C/F#");
        assert_eq!(named("C"), Vec::<String>::new());
    }

    #[test]
    fn degrees_are_named_as_players_do() {
        let degree = |symbol: &str, note: &str| chord(symbol).degree_name(classes(note)[0]);
        let names = [
            ("Cm7b5", "Gb"),
            ("C7#9", "D#"),
            ("C13", "A"),
            ("C6", "A"),
            ("Cmaj7", "B"),
            ("C7", "Bb"),
            ("Cdim7", "A"),
            ("C", "F#"),
            ("C", "C"),
            ("C7#11", "F#"),
        ];
        let found = names.map(|(symbol, note)| degree(symbol, note));
        assert_eq!(found, ["♭5", "♯9", "13", "6", "7", "♭7", "♭♭7", "(♭5)", "1", "♯11"]);
    }
}
