//! An arrangement against the tune it was made from.

use super::violation::{Rule, Violation};
use crate::arrangement::{Score, ScoreNote};
use crate::harmony::{Chord, ChordSymbol};
use crate::pitch::{Interval, Pitch, PitchClass};
use crate::tune::{ChordAt, MelodyNote, Tune};

/// What the arrangement did not keep of `source`, moved by `transpose`, in order of time.
///
/// Every melody note stands at its time and pitch, sounds exactly as long as written, and nothing struck with it lies
/// above it; the bars keep their lengths and the chord symbols their places.
pub fn melody(score: &Score, source: &Tune, transpose: Interval) -> Vec<Violation> {
    let mut violations = bars(score, source);
    for note in source.melody() {
        let mut rules = faults_of_note(score, note, transpose);
        // In written-out music the first voice may well dip under another.
        rules.retain(|rule| source.written_out().is_none() || !matches!(rule, Rule::MelodyCovered { .. }));
        violations.extend(rules.into_iter().map(|rule| Violation::new(source, note.at, rule)));
    }
    let lost = source.chords().iter().filter(|chord| !is_kept(score, chord, transpose));
    violations.extend(lost.map(|c| Violation::new(source, c.at, Rule::ChordMissing(c.symbol.clone()))));
    violations.sort_by_key(|v| v.at);
    violations
}

fn bars(score: &Score, source: &Tune) -> Vec<Violation> {
    let (ours, theirs) = (score.tune.bars(), source.bars());
    let mut violations: Vec<Violation> = ours
        .iter()
        .zip(theirs)
        .filter(|(our, their)| our.length != their.length)
        .map(|(our, their)| {
            let rule = Rule::BarLength { score: our.length, tune: their.length };
            Violation::new(source, their.start, rule)
        })
        .collect();
    if ours.len() != theirs.len() {
        let rule = Rule::BarCount { score: ours.len(), tune: theirs.len() };
        violations.push(Violation::new(source, source.end(), rule));
    }
    violations
}

fn faults_of_note(score: &Score, note: &MelodyNote, transpose: Interval) -> Vec<Rule> {
    let Some(wanted) = note.pitch().checked_add(transpose) else {
        return vec![Rule::MelodyMissing(note.pitch())];
    };
    let here = || score.notes.iter().filter(|n| n.at == note.at);
    let kept = here()
        .filter(|n| n.pitch() == wanted)
        .min_by_key(|n| (n.length != note.length, n.tied_in != note.tied_in));
    let Some(kept) = kept else {
        return vec![Rule::MelodyMissing(wanted)];
    };
    let mut rules = Vec::new();
    if kept.length != note.length {
        rules.push(Rule::MelodyLength { pitch: wanted, sounds: kept.length, written: note.length });
    }
    match (note.tied_in, kept.tied_in) {
        (true, false) => rules.push(Rule::MelodyStruck(wanted)),
        (false, true) => rules.push(Rule::MelodyNotStruck(wanted)),
        _ => (),
    }
    let above: Option<Pitch> = here().map(ScoreNote::pitch).filter(|p| *p > wanted).max();
    rules.extend(above.map(|above| Rule::MelodyCovered { melody: wanted, above }));
    rules
}

/// Whether the score has a symbol of the same sound at the same time; it may be spelled otherwise.
fn is_kept(score: &Score, chord: &ChordAt, transpose: Interval) -> bool {
    let mut here = score.tune.chords().iter().filter(|c| c.at == chord.at);
    here.any(|ours| match (&ours.symbol, &chord.symbol) {
        (ChordSymbol::NoChord, ChordSymbol::NoChord) => true,
        (ChordSymbol::Chord(ours), ChordSymbol::Chord(theirs)) => {
            sound(ours, Interval::new(0)) == sound(theirs, transpose)
        }
        _ => false,
    })
}

/// What makes two symbols the same chord: root, bass and tones.
fn sound(chord: &Chord, moved: Interval) -> (PitchClass, PitchClass, Vec<PitchClass>) {
    let tones = chord.tones().iter().map(|tone| tone + moved);
    let mut tones: Vec<PitchClass> = tones.collect();
    tones.sort_unstable();
    (chord.root.class() + moved, chord.bass_class() + moved, tones)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::sample::{note, score_of, tune_of};
    use super::*;
    use crate::harmony::Kind;
    use crate::spelling::{Spelling, Step};
    use crate::time::Ticks;
    use crate::tune::Bar;

    fn symbol(step: Step) -> ChordSymbol {
        ChordSymbol::Chord(Chord::plain(Spelling::new(step, 0), Kind::Major))
    }

    /// A tune of one melody note, written as a score note.
    fn source(text: &str) -> Tune {
        let note = note(text);
        let melody = MelodyNote {
            at: note.at,
            length: note.length,
            written: note.written,
            tied_in: note.tied_in,
            tied_out: false,
        };
        tune_of(vec![melody], &symbol(Step::C))
    }

    fn sentences(source: &Tune, notes: &[&str], transpose: i16) -> Vec<String> {
        let score = score_of(notes, &symbol(Step::C));
        let violations = melody(&score, source, Interval::new(transpose));
        violations.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_kept_melody_is_fine() {
        let source = source("1 2 1 0 - a");
        assert_eq!(sentences(&source, &["1 2 1 0 - a", "1 1 5 3 3 p", "0 1 1 3 3 a"], 0), [""; 0]);
        // The same pitch on another string is the same melody.
        assert_eq!(sentences(&source, &["1 2 2 5 4 a"], 0), [""; 0]);
    }

    #[test]
    fn a_missing_note_is_told() {
        let source = source("1 2 1 0 - a");
        let missing = ["bar 1, beat 2: the melody note E4 is missing"];
        assert_eq!(sentences(&source, &["1 2 1 1 1 a"], 0), missing);
        // Delayed is missing too.
        assert_eq!(sentences(&source, &["1.5 1.5 1 0 - a"], 0), missing);
    }

    #[test]
    fn the_melody_sounds_as_long_as_written() {
        let source = source("1 2 1 0 - a");
        assert_eq!(
            sentences(&source, &["1 1 1 0 - a"], 0),
            ["bar 1, beat 2: the melody note E4 lasts 1 in quarter notes, but 2 is written"]
        );
        assert_eq!(sentences(&source, &["1 3 1 0 - a"], 0).len(), 1);
    }

    #[test]
    fn nothing_lies_above_the_melody() {
        let source = source("1 2 2 1 1 a");
        assert_eq!(
            sentences(&source, &["1 2 2 1 1 m", "1 1 1 0 - a"], 0),
            ["bar 1, beat 2: the melody note C4 lies under E4"]
        );
    }

    #[test]
    fn a_tied_note_is_not_struck() {
        let tied = source("1 2 1 0 - - tied");
        assert_eq!(sentences(&tied, &["1 2 1 0 - - tied"], 0), [""; 0]);
        assert_eq!(
            sentences(&tied, &["1 2 1 0 - a"], 0),
            ["bar 1, beat 2: the melody note E4 is struck, but it is tied to the one before"]
        );
        assert_eq!(sentences(&source("1 2 1 0 - a"), &["1 2 1 0 - - tied"], 0).len(), 1);
    }

    #[test]
    fn a_transposed_score_is_judged_at_its_pitch() {
        let source = source("1 2 1 0 - a");
        let mut score = score_of(&["1 2 1 2 1 a"], &symbol(Step::D));
        assert_eq!(melody(&score, &source, Interval::new(2)), []);
        score.tune = Arc::new(source.clone());
        let told = melody(&score, &source, Interval::new(2));
        assert_eq!(
            told.iter().map(ToString::to_string).collect::<Vec<_>>(),
            ["bar 1, beat 1: the chord symbol C is missing"]
        );
    }

    #[test]
    fn bars_keep_their_lengths() {
        let source = source("1 2 1 0 - a");
        let mut parts = source.clone().into_parts();
        parts.bars[1].length = Ticks::QUARTER * 3;
        let shorter = Tune::try_new(parts.clone()).unwrap();
        parts.bars.push(Bar { number: "3".to_owned(), ..parts.bars[0].clone() });
        let longer = Tune::try_new(parts).unwrap();
        let mut score = score_of(&["1 2 1 0 - a"], &symbol(Step::C));
        score.tune = Arc::new(shorter);
        let told = |score: &Score| {
            melody(score, &source, Interval::new(0)).iter().map(ToString::to_string).collect::<Vec<_>>()
        };
        let short = "bar 2, beat 1: the bar lasts 3 in quarter notes, but 4 in the tune";
        assert_eq!(told(&score), [short]);
        score.tune = Arc::new(longer);
        assert_eq!(told(&score), [short, "bar 2, beat 5: there are 3 bars, but 2 in the tune"]);
    }
}
