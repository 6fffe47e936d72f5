//! Which tones of a chord have to sound, and which may be left out first.
//!
//! Thirteenth chords have seven notes and a guitar six strings. Harmony books leave out the fifth first, then the
//! ninth or eleventh where it is no characteristic note; never the guide tones or the named tension (common practice).

use super::kind::Kind;
use super::symbol::{Chord, DegreeKind};
use super::tones::ToneSet;
use crate::pitch::{Interval, PitchClass};

impl Chord {
    /// The third and the seventh, which tell the chord's function; in a suspended chord what stands for the third, in a
    /// sixth chord the sixth.
    pub fn guide_tones(&self) -> ToneSet {
        let tones = self.degree_semitones();
        let degree = |number: u8| tones.iter().filter(move |(n, _)| *n == number);
        let has = |number| degree(number).next().is_some();
        let third: &[u8] = if has(3) { &[3] } else { &[2, 4] };
        let seventh: &[u8] = if has(7) { &[7] } else { &[6] };
        let guiding = third.iter().chain(seventh).flat_map(|number| degree(*number));
        guiding.map(|(_, semitones)| self.root.class() + *semitones).collect()
    }

    /// The classes that have to sound: all but those that [`Self::omissible`] names.
    pub fn required(&self) -> ToneSet {
        let mut required = self.tones();
        for class in self.omissible() {
            required.remove(class);
        }
        required
    }

    /// The classes that may be left out, the first to go first.
    pub fn omissible(&self) -> Vec<PitchClass> {
        let tones = self.degree_semitones();
        let top = self.kind.intervals().last().map_or(1, |s| self.kind.degree_of(*s));
        let named = |number: u8| {
            let mut written = self.degrees.iter().filter(|d| d.kind != DegreeKind::Subtract);
            written.any(|d| d.number == number)
        };
        let mut keep = self.guide_tones();
        keep.insert(self.root.class());
        keep.insert(self.bass_class());
        // Of an altered dominant the raised ninth says enough; no hand has all that its symbol allows.
        let ninths = tones.iter().filter(|(number, _)| *number == 9).count();
        let may_go = |(number, semitones): &(u8, Interval)| match (number, semitones.semitones()) {
            (5, 8) | (9, 13) if ninths > 1 => true,
            // Without a third the fifth is all there is beside the root.
            (5, 7) => !named(5) && self.kind != Kind::Power,
            (9 | 11, _) => *number < top && !named(*number),
            _ => false,
        };
        // Of both the eleventh goes first: over a major third it is the note that players avoid.
        let mut gone: Vec<(u8, Interval)> = tones.into_iter().filter(may_go).collect();
        gone.sort_by_key(|(number, _)| match number {
            5 => 0,
            11 => 1,
            _ => 2,
        });
        gone.into_iter()
            .map(|(_, semitones)| self.root.class() + semitones)
            .filter(|class| !keep.contains(*class))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::harmony::{ChordSymbol, Key, Mode};

    fn chord(text: &str) -> Chord {
        ChordSymbol::parse(text).unwrap().chord().cloned().unwrap()
    }

    /// Classes of a chord as it spells them in C major.
    fn spelled(chord: &Chord, classes: impl IntoIterator<Item = PitchClass>) -> String {
        let names = classes.into_iter().map(|c| chord.spell(c, Key::default()).to_string());
        names.collect::<Vec<_>>().join(" ")
    }

    #[track_caller]
    fn check(text: &str, guide: &str, omissible: &str) {
        let chord = chord(text);
        assert_eq!(spelled(&chord, chord.guide_tones().iter()), guide, "guide tones of {text}");
        assert_eq!(spelled(&chord, chord.omissible()), omissible, "omissible in {text}");
    }

    #[test]
    fn the_fifth_goes_first_and_guide_tones_never() {
        check("C", "E", "G");
        check("Cmaj7", "E B", "G");
        check("D7", "C F#", "A");
        check("C13", "E Bb", "G F D");
        check("Cm11", "Eb Bb", "G D");
        check("C9", "E Bb", "G");
        check("C6", "E A", "G");
        check("C7sus4", "F Bb", "G");
    }

    #[test]
    fn what_is_named_stays() {
        check("C7b5", "E Bb", "");
        check("C13b9", "E Bb", "G F");
        check("C13#11", "E Bb", "G D");
        check("Cadd9", "E", "G");
        check("Cdim7", "Eb Bbb", "");
        check("C+", "E", "");
        check("C5", "", "");
        check("C/G", "E", "");
        check("C7no5", "E Bb", "");
        check("C7b9", "E Bb", "G");
        check("C7#9", "E Bb", "G");
    }

    #[test]
    fn of_an_altered_dominant_the_raised_ninth_stays() {
        check("C7alt", "E Bb", "G# Db");
    }

    #[test]
    fn required_and_omissible_make_the_whole() {
        for text in ["C13", "Dm7b5/Ab", "E7#9", "F6/9", "Bsus4", "C7alt"] {
            let chord = chord(text);
            let omissible: ToneSet = chord.omissible().into_iter().collect();
            assert_eq!(chord.required().union(omissible), chord.tones(), "{text}");
            assert!(chord.required().intersection(omissible).is_empty(), "{text}");
            assert!(chord.required().contains_all(chord.guide_tones()), "{text}");
        }
    }

    #[test]
    fn notes_are_spelled_by_their_degree_and_else_by_the_key() {
        let tritone = PitchClass::from_semitones(6);
        let flats = Key::try_new(-4, Mode::Major).unwrap();
        assert_eq!(chord("D7").spell(tritone, flats).to_string(), "F#");
        assert_eq!(chord("Ebm").spell(tritone, flats).to_string(), "Gb");
        assert_eq!(chord("C").spell(tritone, flats).to_string(), "Gb");
        assert_eq!(chord("C/F#").spell(tritone, flats).to_string(), "F#");
        assert_eq!(chord("Cdim7").spell(PitchClass::from_semitones(9), flats).to_string(), "Bbb");
    }
}
