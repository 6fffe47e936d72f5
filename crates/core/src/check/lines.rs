//! An arrangement against the bass line and the hooks of the tune it was made from.

use super::violation::{Rule, Violation};
use crate::arrangement::{GiveWay, Score};
use crate::demand::Part;
use crate::pitch::Interval;
use crate::tune::{LineNote, Tune};

/// What the score neither kept of the lines of `source`, moved by `transpose`, nor told in its give-ways, in order of
/// time.
///
/// Each note stands in its part at its time and pitch and sounds as long as written. One that does not stand there is
/// named where it would begin, one that ends early where it ends.
pub fn lines(score: &Score, give_ways: &[GiveWay], source: &Tune, transpose: Interval) -> Vec<Violation> {
    let faults = |note: &LineNote| {
        fault(score, give_ways, note, transpose).map(|rule| Violation::new(source, note.at, rule))
    };
    source.lines().iter().filter_map(faults).collect()
}

fn fault(score: &Score, give_ways: &[GiveWay], note: &LineNote, transpose: Interval) -> Option<Rule> {
    let part = Part::from(note.line);
    let told = |at| give_ways.iter().any(|give_way| give_way.part == part && give_way.at == at);
    let Some(pitch) = note.pitch().checked_add(transpose) else {
        return Some(Rule::NoteMissing(note.pitch()));
    };
    let kept = score.notes.iter().find(|n| n.at == note.at && n.part == part && n.pitch() == pitch);
    match kept {
        None => (!told(note.at)).then_some(Rule::NoteMissing(pitch)),
        Some(kept) if kept.length == note.length => None,
        Some(kept) if kept.length < note.length && told(kept.end()) => None,
        Some(kept) => Some(Rule::NoteLength { pitch, sounds: kept.length, written: note.length }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrangement::GiveWayReason;
    use crate::check::sample::{score_of, tune_of};
    use crate::harmony::ChordSymbol;
    use crate::time::Ticks;
    use crate::tune::{Line, TuneParts};

    /// A bass of two quarters under a melody of one, and the tune in which the bass is written.
    fn sample() -> (Score, Tune) {
        let mut score = score_of(&["0 2 6 3 2 p", "0 1 1 3 4 m"], &ChordSymbol::NoChord);
        score.notes[1].part = Part::Bass;
        let bass = score.notes[1];
        let note = LineNote { at: bass.at, length: bass.length, written: bass.written, line: Line::Bass };
        let parts = tune_of(Vec::new(), &ChordSymbol::NoChord).into_parts();
        (score, Tune::try_new(TuneParts { lines: vec![note], ..parts }).unwrap())
    }

    fn told(score: &Score, at: Ticks, part: Part) -> GiveWay {
        GiveWay { at, bar_beat: score.tune.bar_beat(at), part, reason: GiveWayReason::LetGo }
    }

    #[test]
    fn a_line_that_is_kept_is_fine() {
        let (score, tune) = sample();
        assert_eq!(lines(&score, &[], &tune, Interval::default()), []);
        assert_eq!(lines(&score, &[], &tune, Interval::new(1)).len(), 1);
    }

    #[test]
    fn what_is_not_kept_has_to_be_told() {
        let (mut score, tune) = sample();
        score.notes[1].length = Ticks::QUARTER;
        let shorter = lines(&score, &[], &tune, Interval::default());
        assert!(matches!(shorter[..], [Violation { rule: Rule::NoteLength { .. }, .. }]), "{shorter:?}");
        let end = told(&score, Ticks::QUARTER, Part::Bass);
        assert_eq!(lines(&score, &[end], &tune, Interval::default()), []);
        score.notes[1].part = Part::Inner;
        let missing = lines(&score, &[], &tune, Interval::default());
        assert!(matches!(missing[..], [Violation { rule: Rule::NoteMissing(_), .. }]), "{missing:?}");
        let [of_another, of_the_bass] = [Part::Hook, Part::Bass].map(|part| told(&score, Ticks::ZERO, part));
        assert_eq!(lines(&score, &[of_another], &tune, Interval::default()).len(), 1);
        assert_eq!(lines(&score, &[of_the_bass], &tune, Interval::default()), []);
    }
}
