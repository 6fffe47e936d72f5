//! A fingered piece against the written-out music it was made from.

use super::violation::{Rule, Violation};
use crate::arrangement::Score;
use crate::pitch::Interval;
use crate::tune::{GivenNote, Tune};

/// What the score did not keep of the notes below the melody of `source`, moved by `transpose`, in order of time.
///
/// Each stands at its time and pitch and sounds as long as written, or until its pitch is struck again. A pitch that
/// two voices begin together is one note, as long as the longer of the two, or as the melody where it is one.
pub fn below_the_melody(score: &Score, source: &Tune, transpose: Interval) -> Vec<Violation> {
    let faults = |note: &GivenNote| {
        fault(score, source, note, transpose).map(|rule| Violation::new(source, note.at, rule))
    };
    source.below_the_melody().iter().filter_map(faults).collect()
}

fn fault(score: &Score, source: &Tune, note: &GivenNote, transpose: Interval) -> Option<Rule> {
    let Some(pitch) = note.pitch().checked_add(transpose) else {
        return Some(Rule::NoteMissing(note.pitch()));
    };
    let Some(kept) = score.notes.iter().find(|n| n.at == note.at && n.pitch() == pitch) else {
        return Some(Rule::NoteMissing(pitch));
    };
    let melody = source.melody().iter().map(|n| (n.at, n.pitch()));
    let begins = |at, same| at > note.at && at < note.end() && same == note.pitch();
    let below = source.below_the_melody().iter().map(|n| (n.at, n.pitch()));
    let again = melody.clone().chain(below).filter(|(at, same)| begins(*at, *same)).map(|(at, _)| at).min();
    let wanted = again.unwrap_or_else(|| note.end()) - note.at;
    let doubles_melody = melody.into_iter().any(|(at, same)| at == note.at && same == note.pitch());
    (kept.length < wanted && !doubles_melody).then_some(Rule::NoteLength {
        pitch,
        sounds: kept.length,
        written: wanted,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::sample::{score_of, tune_of};
    use crate::harmony::ChordSymbol;
    use crate::time::Ticks;
    use crate::tune::{MelodyNote, TuneParts, WrittenOut};

    /// A melody note on the highest string over a bass on the lowest.
    fn sample() -> (Score, Tune) {
        let score = score_of(&["0 4 6 3 2 p", "0 2 1 3 4 m"], &ChordSymbol::NoChord);
        let [bass, top] = [1, 0].map(|index| score.notes[index]);
        let melody = MelodyNote {
            at: top.at,
            length: top.length,
            written: top.written,
            tied_in: false,
            tied_out: false,
        };
        let below = GivenNote {
            at: bass.at,
            length: bass.length,
            written: bass.written,
            is_bass: true,
            tied_in: false,
            tied_out: false,
        };
        let written_out = WrittenOut { notes: vec![below], ..WrittenOut::default() };
        let parts = tune_of(vec![melody], &ChordSymbol::NoChord).into_parts();
        (score, Tune::try_new(TuneParts { written_out: Some(written_out), ..parts }).unwrap())
    }

    #[test]
    fn a_note_kept_is_no_violation() {
        let (score, tune) = sample();
        assert_eq!(below_the_melody(&score, &tune, Interval::default()), []);
    }

    #[test]
    fn a_note_cut_short_or_lost_is_named() {
        let (mut score, tune) = sample();
        score.notes[1].length = Ticks::QUARTER;
        let faults = below_the_melody(&score, &tune, Interval::default());
        assert!(matches!(faults[..], [Violation { rule: Rule::NoteLength { .. }, .. }]), "{faults:?}");
        score.notes.remove(1);
        let faults = below_the_melody(&score, &tune, Interval::default());
        assert!(matches!(faults[..], [Violation { rule: Rule::NoteMissing(_), .. }]), "{faults:?}");
    }
}
